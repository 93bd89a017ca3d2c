"""A question package read back: what each item asks, and what it does with an answer."""

import io
import zipfile
from dataclasses import dataclass
from xml.etree import ElementTree

Q = "{http://www.imsglobal.org/xsd/imsqti_v2p1}"
ALT = "alttext"


@dataclass(frozen=True)
class ReadItem:
    """One item.  tests: what leads to which feedback, in order, as (numbers or letters, tolerances, feedback)."""

    name: str
    asked: str
    form: str
    right: str
    tolerance: float | None
    options: tuple
    feedback: dict
    pictures: tuple
    root: ElementTree.Element

    def answered(self, answer):
        """Return score and feedback after an answer, as a platform would reckon them."""
        outcome = {"SCORE": 0.0, "FEEDBACK": None}
        for branch in self.root.find(f"{Q}responseProcessing/{Q}responseCondition"):
            parts = list(branch)
            if branch.tag == f"{Q}responseElse" or _holds(parts[0], answer, self.right):
                for rule in parts:
                    if rule.tag == f"{Q}setOutcomeValue":
                        text = rule.find(f"{Q}baseValue").text
                        outcome[rule.get("identifier")] = (
                            float(text) if rule.get("identifier") == "SCORE" else text
                        )
                break
        return outcome["SCORE"], outcome["FEEDBACK"]


def read_package(data):
    """Return the items of a package, by name, and its files."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        files = {name: archive.read(name) for name in archive.namelist()}
    items = [_read(ElementTree.fromstring(text)) for name, text in files.items() if name.startswith("items/")]
    return {one.name: one for one in items}, files


def _read(root):
    choice = root.find(f".//{Q}choiceInteraction")
    right = root.findtext(f"{Q}responseDeclaration/{Q}correctResponse/{Q}value")
    test = root.find(f".//{Q}equal")
    return ReadItem(
        name=root.get("identifier"), asked=words_of(root.find(f"{Q}itemBody")),
        form="number" if choice is None else "choice",
        right=right, tolerance=None if test is None else float(test.get("tolerance")),
        options=() if choice is None else tuple(words_of(one) for one in choice.findall(f"{Q}simpleChoice")),
        feedback={one.get("identifier"): words_of(one) for one in root.findall(f"{Q}modalFeedback")},
        pictures=tuple((one.get("src"), one.get("alt")) for one in root.iter(f"{Q}img")), root=root,
    )  # fmt: skip


def words_of(element):
    """Return the words of an element, a formula by what a voice would say of it."""
    said = element.text or ""
    for child in element:
        said += child.get(ALT) if child.get(ALT) else words_of(child)
        said += child.tail or ""
    return said


def _holds(test, answer, right):
    name = test.tag.removeprefix(Q)
    if name == "isNull":
        return answer is None
    if name == "and":
        return all(_holds(one, answer, right) for one in test)
    value = next((one.text for one in test.findall(f"{Q}baseValue")), right)
    if name == "match":
        return answer == value
    return abs(float(answer) - float(value)) <= float(test.get("tolerance"))
