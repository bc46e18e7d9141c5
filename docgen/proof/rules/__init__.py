"""One rule a file; :mod:`docgen.proof.rulebook` finds them. Each has its page in ``docs/rules/``, which is its test."""
