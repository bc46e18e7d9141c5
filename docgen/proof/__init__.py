"""Proofing: every procedure simulated on every engine type, and on the very engine before its sheet is printed."""

from docgen.proof.proofing import Seen, proof_all, proof_job

__all__ = ["Seen", "proof_all", "proof_job"]
