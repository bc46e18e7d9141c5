"""An instruction of more than twenty words: the published limit for simplified technical English (secondary copy)."""

from docgen.proof.case import Findings, Written
from docgen.proof.words import english, sentences, words

MOST = 20


def on_steps(file: Written) -> Findings:
    """One finding at each long sentence of a step's text or of what a safety message says to avoid."""
    texts = [((*loc, "do"), english(step.do)) for loc, step in file.steps]
    texts += [(("safety", i, "avoid"), english(message.avoid)) for i, message in enumerate(file.value.safety)]
    for loc, text in texts:
        for sentence in sentences(text):
            count = len(words(sentence))
            if count > MOST:
                yield file.finding(loc, f"this sentence has {count} words; a mechanic reads at most {MOST}",
                                   "make two sentences or two steps of it")  # fmt: skip
                break
