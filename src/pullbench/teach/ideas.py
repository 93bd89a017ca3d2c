"""What a wrong answer shows: an idea that many bring along, or a slip in the working; with one sentence each.

The sentence is said to whoever gave the answer: what the number shows, and where to look next.  `source` says who
described the idea.  "Common practice" means that no published source is known, "from memory" that none was looked
up; neither may be shown as a quotation.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

MEMORY = "from memory"
PRACTICE = "common practice"
OWN = "our own, from the steps of the problem"
_SURVEY = "a survey of 145 pupils in Korean middle schools, abstract"
_REVIEW = "Kızılcık et al., Phys. Rev. PER 17, 023107 (2021)"
_IOP = "Institute of Physics, notes on misconceptions about friction"


@dataclass(frozen=True, slots=True)
class Idea:
    """One idea or slip: its short name, which of the two it is, the sentence for the pupil, and the source."""

    name: str
    kind: Literal["idea", "slip"]
    sentence: str
    source: str


# ideas that many bring along, met in class: name, sentence, source
_MET = (
    ("friction at rest is always at its limit",
     "Friction at rest is only as large as what it has to hold; its limit, coefficient times normal force, is not "
     "reached here. Look at the forces along the floor: nothing moves, so they balance.",
     "Kryjevskaia, Heron & Heckler, Physics Today 74(8), 28 (2021)"),
    ("friction only when it slides",
     "This leaves friction out while nothing moves. Ask what balances the pull, or the weight's share on a "
     "tilt.", f"{_IOP} (Clement; Osborne)"),
    ("at rest friction beats the pull",
     "This makes friction larger than the pull. At rest the two are equal; a larger friction would push backwards.",
     _SURVEY),
    ("steady speed needs pull above friction",
     "This takes more pull than friction to keep a steady speed. At a steady speed the two balance; more pull speeds "
     "the sled up.", _SURVEY),
    ("more area more friction",
     "This lets friction go with the area. Look at what is in coefficient times normal force: the area is not.",
     f"{_SURVEY}; {_REVIEW}"),
    ("faster means more friction",
     "This lets friction go with the speed. To a first approximation speed is not in coefficient times normal force.",
     MEMORY),
    ("friction always against the motion",
     "Friction acts against sliding of one face on the other. Ask which way this body would slide on the face "
     "under it if there were no friction.", f"{_REVIEW}: found in the most papers of 42"),
    ("friction only hinders",
     "Friction can also start a body. Look for the one force that could speed this body up.", f"{_IOP}; {_REVIEW}"),
    ("normal force is the weight",
     "This puts the whole weight in for the normal force. Balance the forces at right angles to the surface: the "
     "tilt or the string changes what presses.", f"near {_IOP}; the rest from memory"),
    ("friction is the weight",
     "This takes the weight for the friction. The weight points down, friction lies along the surface; the "
     "coefficient stands between them.", "Clement, quoted by the Institute of Physics (1987)"),
    ("heavier sled larger coefficient",
     "This lets the coefficient grow with the load. More load makes friction larger, and the normal force too; their "
     "quotient stays.", MEMORY),
    ("heavier slides less far",
     "This lets a heavier body stop sooner. Friction grows with the mass, and so does what it has to slow down.",
     MEMORY),
    ("coefficient cannot exceed one",
     "A coefficient is a quotient of two forces and may be above one; some soles hold on boards steeper than 45°.",
     "printed tables of coefficients; the idea from memory"),
    ("one coefficient for both",
     "This uses one coefficient for standing and sliding. Starting takes more than sliding on: look which of the two "
     "is asked for.", f"{_REVIEW}; Oktay & Kaltakçı"),
    ("smoother is slipperier",
     "Smoother faces need not slide more easily; two polished ones can hold very well. Only a pull tells.",
     "topic Besson et al., Am. J. Phys. (2007); the claim from memory"),
    ("coefficient of one thing",
     "A coefficient belongs to two surfaces together. On another floor the same sole has another one.",
     f"near {_IOP}; the rest from memory"),
    ("the table feels nothing",
     "Two faces rub each other: what the sled feels backwards, the table feels forwards, equally large.",
     "Brown (1988); Clement, J. Res. Sci. Teach. 30, 1241 (1993)"),
    ("a table cannot push",
     "A table bends a little and pushes back like a stiff spring. Without its push the load would fall.",
     "Brown & Clement (1987): 14 of 21 said so"),
    ("friction off once it slides",
     "Friction goes on while it slides; after the break the level is lower, but it is not nought.", _IOP),
    ("smaller coefficient on the Moon",
     "On the Moon the weight is smaller, and friction with it; their quotient, the coefficient, stays.", MEMORY),
    ("the peak is the hand's jerk",
     "The peak is there in a slow pull too: it is the force at which the sled lets go.", MEMORY),
    ("one right reading",
     "Repeats of a careful pull differ. Give their mean with its plus or minus, not the one that pleases.",
     "HU Berlin handbook on uncertainty; Buffler, Allie & Lubben, Phys. Teach. 46 (2008)"),
    ("different numbers, different surfaces",
     "Two numbers differ, but so do repeats. Hold the difference against its own limits.",
     "the same research on readings; the rest from memory"),
    ("heavier block slips at another angle",
     "The angle at which it slips does not depend on the mass: along the board and across it, the mass is in both.",
     MEMORY),
)  # fmt: skip

# slips in the working
_SLIPS = (
    ("mass for weight", "This has kilograms where newtons belong. Multiply the mass by g to get the weight.", PRACTICE),
    ("grams left in", "This has grams where kilograms belong: it is 1000 times too much.", PRACTICE),
    ("sine and cosine swapped",
     "Sine and cosine are swapped. Let the angle go to nought: the part along the board must vanish.", PRACTICE),
    ("calculator in radians", "This comes from a calculator set to radians. Set it to degrees.", PRACTICE),
    ("string's vertical part forgotten",
     "This leaves out what the string lifts or presses. Balance the forces up and down before the friction.", PRACTICE),
    ("string's vertical part with the wrong sign",
     "The string's vertical part has the wrong sign: a string that lifts makes the normal force smaller, a push "
     "downwards makes it larger.", PRACTICE),
    ("angle ignored", "This treats the pull as level. Take it apart along the floor and straight up.", PRACTICE),
    ("sine and cosine of the string swapped",
     "Sine and cosine of the string's angle are swapped. For a level pull the vertical part must vanish.",
     PRACTICE),
    ("static taken at its limit, then accelerated",
     "This lets friction at its limit push the body backwards. The pull is below the limit: it stays at rest.",
     PRACTICE),
    ("kinetic for static", "This uses the kinetic coefficient for a body that stands. Starting goes by the static one.",
     PRACTICE),
    ("static for kinetic", "This uses the static coefficient for a body that slides. Sliding goes by the kinetic one.",
     PRACTICE),
    ("friction left out", "Friction is missing here. Draw all forces along the surface first.", PRACTICE),
    ("sled's mass left out", "The sled itself is missing: it presses on the floor together with its load.", PRACTICE),
    ("upside down", "The quotient is upside down: the coefficient is friction divided by normal force.", PRACTICE),
    ("sine for tangent",
     "This has the sine where the tangent belongs: what presses on the board shrinks as well, with the cosine.",
     PRACTICE),
    ("slope's sign",
     "One of the two parts along the board has the wrong sign. Uphill both slow it; downhill friction acts against "
     "the weight's share.", PRACTICE),
    ("floor load without rider", "The rider presses on the floor too, through the sled: its weight is missing below.",
     PRACTICE),
    ("friction on the rider backwards",
     "Friction on the rider is drawn backwards. It is the only force that speeds the rider up, so it points forwards.",
     PRACTICE),
    ("only the sled accelerates", "The pull speeds up the rider as well: its mass is missing in mass times "
     "acceleration.", PRACTICE),
    ("pull set equal to the rider's friction",
     "This makes the pull as large as the friction on the rider. The pull also speeds up the sled and works against "
     "the floor.", PRACTICE),
    ("g lost", "Here g is missing: the sled slows down by coefficient times g.", PRACTICE),
    ("the 2 lost", "A factor of 2 is missing: between start and rest the mean speed is half the first one.", PRACTICE),
    ("the square lost", "The square is lost: speed goes into the distance twice, as pace and as time.", PRACTICE),
    ("mass left in", "The mass was left in. It stands on both sides and cancels.", PRACTICE),
    ("string force taken as the load's weight",
     "This takes the load's weight for the force in the string. While the load speeds up, the string holds less.",
     PRACTICE),
    ("peak read as kinetic", "This is the highest point, where the sled let go. The kinetic force is the level "
                             "after it.",
     PRACTICE),
    ("rest reading not taken off",
     "The reading before the pull is still in it. Take the rest reading off every force.", PRACTICE),
    ("one point for the slope",
     "This divides one force by one load. The line does not go through nought, so the slope needs two points far "
     "apart.", PRACTICE),
    ("grams-force read as newtons",
     "The scale's grams or kilograms were read as newtons. One kilogram on it is 9.81 N.", PRACTICE),
    ("speed in km/h", "The speed went in in km/h. Divide by 3.6 for metres a second.", PRACTICE),
    ("limits added straight",
     "The limits were added straight. Independent ones add as squares, so the sum is smaller.", PRACTICE),
    ("too many figures", "More figures than the plus or minus carries. Stop at the place where it begins.", PRACTICE),
    ("too few figures", "The plus or minus tells more figures than the value shows. Give both to the same place.",
     PRACTICE),
    ("unit on a coefficient", "A coefficient is one force divided by another: it has no unit.", PRACTICE),
    ("rounded half-way", "This was rounded on the way. Keep all figures until the last line.", PRACTICE),
)  # fmt: skip

# ideas and slips that belong to single problems
_MORE_MET = (
    ("faster means less friction",
     "This lets friction fall with the speed. To a first approximation speed is not in coefficient times normal force.",
     MEMORY),
    ("friction grows with speed",
     "This lets friction change with the speed. To a first approximation it stays; the distance grows with the square.",
     MEMORY),
    ("more pressure more friction",
     "A smaller area presses harder on each spot, but there are fewer spots: the two cancel.", MEMORY),
    ("friction does not depend on load",
     "This leaves the load out. What presses more rubs more: friction goes with the normal force.", OWN),
    ("heavier slides farther",
     "This lets the heavier sled slide on longer. It has more to slow down, and in the same measure more "
     "friction.", OWN),
    ("equal and opposite pulls cancel",
     "The two pulls of a rope act on two bodies, so they do not cancel. Look at each body alone.", MEMORY),
    ("the rougher sole takes its share",
     "This gives the rougher sole more friction. Both tins stand under the same pull, so both hold just that.", OWN),
    ("friction as large as any pull",
     "This makes friction as large as the pull. That holds at rest and at a steady speed; here the sled speeds "
     "up.", OWN),
    ("friction at rest has no limit",
     "This lets friction at rest hold whatever it must. It grows only up to coefficient times normal force.", OWN),
    ("the push stays with it",
     "The hand's push ended where it let go. From there on only weight, normal force and friction act.",
     "Clement, Am. J. Phys. 50, 66 (1982)"),
    ("no proof of a difference is sameness",
     "Not told apart is not the same: that needs limits that fit inside the margin.", MEMORY),
    ("overlapping limits never differ",
     "Limits of two values may overlap a little and the values still differ. Hold the difference against its "
     "own limits.",
     MEMORY),
    ("overlapping limits cannot be the same",
     "Same within a margin can be told: when the difference and its limits fit inside the margin.", OWN),
    ("the sled keeps the work",
     "The sled is no faster and no higher than before, so it keeps nothing. Sled and floor get warm.", OWN),
    ("steady speed needs no work", "A steady speed against friction needs a pull, and a pull over a way is work.", OWN),
)  # fmt: skip

_MORE_SLIPS = (
    ("acceleration left out", "The string also speeds up what it pulls: mass times acceleration is missing.", OWN),
    ("distance for speed", "Power is work each second: pull times speed, not pull times way.", OWN),
    ("floor's friction taken off the rider", "The floor rubs the sled, not the rider. Look at the rider alone.", OWN),
    ("force without the distance", "This is the force. Work is force times the way along it.", OWN),
    ("friction on the tilt left out", "Friction takes its share on the board already, before the level begins.", OWN),
    ("km/h turned the wrong way", "The speed was multiplied by 3.6. From km/h to metres a second it is divided.", OWN),
    ("limits subtracted", "The limits were subtracted. Not knowing two things is never better than not knowing "
                          "one.", OWN),
    ("only the larger limit", "Only the larger limit is used. The smaller one adds to it, as a square.", OWN),
    ("load of both on one face", "Only what lies above a face presses on it: the upper block on the upper face.", OWN),
    ("one contact left out", "One of the rubbing faces is missing. Go round the body and count what touches it.", OWN),
    ("one of the two limits only", "Only one end was looked at. The lower of the two limits decides.", OWN),
    ("one sled's mass left out", "The pull speeds up both sleds: put both masses in.", OWN),
    ("only the floor's friction", "The block above rubs as well, and the string pulls. Count every force.", OWN),
    ("slope's share of the weight left out", "Along the board the weight pulls too, with its sine.", OWN),
    ("the belt's way for the mark", "The box moves on meanwhile. The mark is how far belt and box part.", OWN),
    ("the box's coefficient for the shoes'", "This uses the box's sole for the shoes. Each face has its own.", OWN),
    ("the floor's coefficient for the rider's",
     "This uses the floor's coefficient for the rider. What starts the rider is the face under it.", OWN),
    ("weight for friction", "This puts the weight where friction belongs. The pull works against friction only.", OWN),
    ("whole pull on the string", "The pull also moves the front sled. The string holds only what hangs behind "
                                 "it.", OWN),
    ("normal force for the pull", "This is a force across the floor. Asked is the one along the string.", OWN),
    ("load for the whole", "This is sled and load together. Take the sled off to get the load.", OWN),
    ("relative for absolute", "This is the share of the value. Multiply by the value for its plus or minus.", OWN),
    ("intercept for the sled's weight",
     "The intercept is a friction force. Divide by the slope for the weight behind it.", OWN),
    ("the root lost", "The root is missing: the way grows with the square of the time.", OWN),
    ("level read as the peak", "This is the level of the slide. The sled let go at the highest point before it.", OWN),
    ("rest reading with the wrong sign",
     "The rest reading went in with the wrong sign. Count from the flat stretch before the pull up to the point.", OWN),
    ("tilt ignored", "This is the whole weight. Along the board only its share with the sine acts.", OWN),
    ("tangent for sine", "This has the tangent where the sine belongs: the weight is the longest side.", OWN),
    ("share of ninety degrees", "An angle does not grow evenly with its sine or tangent. Use the inverse function.",
     PRACTICE),
    ("way for speed", "This is the way. Asked is the speed at the end: acceleration times time.", OWN),
    ("speed divided by time", "Acceleration is speed gained each second: multiply it by the time.", OWN),
    ("mean speed forgotten", "It slows down all the way: the mean speed is half the first one.", OWN),
    ("product for quotient", "This multiplies the forces. The coefficient is friction divided by normal force.", OWN),
    ("limits of the forces divided", "Limits do not divide like values. Take each as a share first, then add squares.",
     OWN),
)  # fmt: skip


def _told(kind: Literal["idea", "slip"], *tables: tuple[tuple[str, str, str], ...]) -> dict[str, Idea]:
    rows = [row for table in tables for row in table]
    return {name: Idea(name, kind, sentence, source) for name, sentence, source in rows}


IDEAS: Mapping[str, Idea] = MappingProxyType(
    _told("idea", _MET, _MORE_MET) | _told("slip", _SLIPS, _MORE_SLIPS)
)
