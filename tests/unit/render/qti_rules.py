"""Rules of the question package's standard, checked without its schema.

Sources: the XML schema of IMS Question and Test Interoperability 2.1 (final, 31 July 2012: content of itemBody,
modalFeedback and the expressions; attributes of equal and modalFeedback), read and put in our own words for what we
use; the example packages of 1EdTech (one resource an item, pictures as webcontent that items depend on); for the
order of an assessmentItem's children, the identifiers' form and the packaging namespace from memory of the
specification.  The schema's own text is not kept here.
"""

import io
import re
import zipfile
from xml.etree import ElementTree

QTI = "{http://www.imsglobal.org/xsd/imsqti_v2p1}"
CP = "{http://www.imsglobal.org/xsd/imscp_v1p1}"
MATHML = "{http://www.w3.org/1998/Math/MathML}"
IDENTIFIER = re.compile(r"[A-Za-z_][A-Za-z0-9_.-]*")

ITEM_ORDER = ("responseDeclaration", "outcomeDeclaration", "itemBody", "responseProcessing", "modalFeedback")
TEXT = {"p", "ul", "li", "prompt", "simpleChoice", "modalFeedback"}  # elements that hold words
INLINE = {"img", "math"}
CHILDREN = {
    "assessmentItem": set(ITEM_ORDER),
    "responseDeclaration": {"correctResponse"}, "correctResponse": {"value"}, "outcomeDeclaration": {"defaultValue"},
    "defaultValue": {"value"}, "value": set(),
    "itemBody": {"p", "ul", "choiceInteraction"},  # blocks only, no bare words
    "p": INLINE | {"textEntryInteraction"}, "ul": {"li"}, "li": INLINE, "img": set(),
    "choiceInteraction": {"prompt", "simpleChoice"}, "prompt": INLINE, "simpleChoice": INLINE,
    "textEntryInteraction": set(),
    "responseProcessing": {"responseCondition"},
    "responseCondition": {"responseIf", "responseElseIf", "responseElse"},
    "responseIf": {"isNull", "setOutcomeValue"},
    "responseElseIf": {"equal", "match", "and", "setOutcomeValue"}, "responseElse": {"setOutcomeValue"},
    "isNull": {"variable"}, "and": {"equal", "match"}, "equal": {"variable", "correct", "baseValue"},
    "match": {"variable", "correct", "baseValue"}, "setOutcomeValue": {"baseValue"}, "variable": set(),
    "correct": set(), "baseValue": set(), "modalFeedback": {"p"},
}  # fmt: skip
REQUIRED = {
    "assessmentItem": {"identifier", "title", "adaptive", "timeDependent"},
    "responseDeclaration": {"identifier", "cardinality", "baseType"},
    "outcomeDeclaration": {"identifier", "cardinality", "baseType"},
    "choiceInteraction": {"responseIdentifier", "shuffle", "maxChoices"}, "simpleChoice": {"identifier"},
    "textEntryInteraction": {"responseIdentifier"}, "img": {"src", "alt"}, "equal": {"toleranceMode", "tolerance"},
    "variable": {"identifier"}, "correct": {"identifier"}, "setOutcomeValue": {"identifier"},
    "baseValue": {"baseType"}, "modalFeedback": {"outcomeIdentifier", "identifier", "showHide"},
}  # fmt: skip


def faults_of_package(data):
    """Return every rule that a package breaks, one line each."""
    faults = []
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        names = archive.namelist()
        faults += [] if names[0] == "imsmanifest.xml" else ["the manifest does not come first"]
        manifest = ElementTree.fromstring(archive.read("imsmanifest.xml"))
        faults += _faults_of_manifest(manifest, set(names) - {"imsmanifest.xml"})
        for name in names:
            if name.startswith("items/"):
                root = ElementTree.fromstring(archive.read(name))
                faults += [f"{name}: {fault}" for fault in faults_of_item(root)]
                faults += [
                    f"{name}: {img.get('src')} is not in the package"
                    for img in root.iter(f"{QTI}img")
                    if img.get("src", "").removeprefix("../") not in names
                ]
    return faults


def _faults_of_manifest(root, files):
    tags = [child.tag for child in root]
    if root.tag != f"{CP}manifest" or tags != [f"{CP}metadata", f"{CP}organizations", f"{CP}resources"]:
        return ["the manifest is not metadata, organizations, resources"]
    resources = root.findall(f"{CP}resources/{CP}resource")
    own = [root.get("identifier"), *(one.get("identifier") for one in resources)]
    faults = [f"identifier {one!r} is not one" for one in own if not IDENTIFIER.fullmatch(one or "")]
    faults += [] if len(set(own)) == len(own) else ["an identifier is used twice"]
    told = [root.findtext(f"{CP}metadata/{CP}{tag}") for tag in ("schema", "schemaversion")]
    faults += [] if told == ["QTIv2.1 Package", "1.0.0"] else ["schema and version are not those of 2.1"]
    listed = [file.get("href") for one in resources for file in one.findall(f"{CP}file")]
    if sorted(listed) != sorted(files):
        faults.append(f"files and manifest differ: {sorted(set(listed) ^ files)}")
    for one in resources:
        faults += (
            [] if one.find(f"{CP}file").get("href") == one.get("href") else ["a resource is not its own file"]
        )
        faults += (
            []
            if one.get("type") in ("imsqti_item_xmlv2p1", "webcontent")
            else ["a resource of no known type"]
        )
        faults += [
            f"dependency on {needs.get('identifierref')!r}, which is not there"
            for needs in one.findall(f"{CP}dependency") if needs.get("identifierref") not in own
        ]  # fmt: skip
    return faults


def faults_of_item(root):
    """Return every rule that one item breaks."""
    faults = []
    if root.tag != f"{QTI}assessmentItem":
        return ["the root is no assessmentItem"]
    for element in _outside_formulas(root):
        faults += _faults_of_element(element)
    order = [
        ITEM_ORDER.index(child.tag.removeprefix(QTI))
        for child in root
        if child.tag.removeprefix(QTI) in ITEM_ORDER
    ]
    faults += [] if order == sorted(order) else ["children are out of order"]
    return faults + _faults_of_references(root)


def _outside_formulas(element):
    yield element
    for child in element:
        if not child.tag.startswith(MATHML):
            yield from _outside_formulas(child)


def _faults_of_element(element):
    name = element.tag.removeprefix(QTI)
    if name not in CHILDREN:
        return [f"there is no element {name}"]
    held = [child.tag.removeprefix(QTI).removeprefix(MATHML) for child in element]
    faults = [f"{name} holds {one}" for one in held if one not in CHILDREN[name]]
    faults += [f"{name} lacks {one}" for one in REQUIRED.get(name, set()) - set(element.attrib)]
    words = (element.text or "") + "".join(child.tail or "" for child in element)
    if name not in TEXT | {"value", "baseValue"} and words.strip():
        faults.append(f"bare words in {name}")
    if name == "responseCondition":
        good = held[0] == "responseIf" and held.count("responseIf") == 1 and held.count("responseElse") <= 1
        faults += (
            []
            if good and (held[-1] == "responseElse" or "responseElse" not in held)
            else ["branches out of order"]
        )
    if name in ("equal", "match") and len(held) != 2:
        faults.append(f"{name} compares {len(held)} expressions")
    if name == "equal" and not (
        element.get("toleranceMode") == "absolute" and float(element.get("tolerance")) > 0
    ):
        faults.append("a tolerance is not above nought")
    if name in ("responseIf", "responseElseIf") and held[0] == "setOutcomeValue":
        faults.append("a branch has no test")
    return faults


def _faults_of_references(root):
    declared = {
        one.get("identifier"): one.get("baseType")
        for tag in ("responseDeclaration", "outcomeDeclaration") for one in root.findall(f"{QTI}{tag}")
    }  # fmt: skip
    choices = {one.get("identifier") for one in root.iter(f"{QTI}simpleChoice")}
    feedback = [one.get("identifier") for one in root.findall(f"{QTI}modalFeedback")]
    faults = [
        f"{one!r} is no identifier"
        for one in [root.get("identifier"), *declared, *choices, *feedback]
        if not IDENTIFIER.fullmatch(one)
    ]
    faults += [] if len(set(feedback)) == len(feedback) else ["feedback under one name twice"]
    named = [
        one.get("identifier")
        for tag in ("variable", "correct", "setOutcomeValue")
        for one in root.iter(f"{QTI}{tag}")
    ]
    named += [one.get("responseIdentifier") for one in root.iter() if one.get("responseIdentifier")]
    named += [one.get("outcomeIdentifier") for one in root.iter() if one.get("outcomeIdentifier")]
    faults += [f"{one!r} was not declared" for one in named if one not in declared]
    shown = set()
    for one in root.iter(f"{QTI}setOutcomeValue"):
        value = one.find(f"{QTI}baseValue")
        faults += (
            [] if value.get("baseType") == declared[one.get("identifier")] else ["an outcome of another type"]
        )
        shown |= {value.text} if one.get("identifier") == "FEEDBACK" else set()
    faults += [f"feedback {one!r} is set and not written" for one in shown - set(feedback)]
    faults += [f"feedback {one!r} is written and never set" for one in set(feedback) - shown]
    right = root.findtext(f"{QTI}responseDeclaration/{QTI}correctResponse/{QTI}value")
    if declared["RESPONSE"] == "identifier" and right not in choices:
        faults.append("the right option is not there")
    return faults
