# Checks before the gate is driven, the pull by hand, documents.

check-state-in-order = in order
check-state-not-in-order = not in order
check-state-not-checked = not checked
check-state-not-applicable = not applicable

readiness-of-gate = { $gate }, before it is driven: { $overall }. { $counts }
readiness-all-in-order = every check answered and in order
readiness-not-in-order = not in order
readiness-not-checked = incomplete
readiness-count = { $count } { $state }
readiness-counts = { $checks ->
    [one] 1 check
   *[other] { $checks } checks
}: { $counts }.
readiness-never-good = A check without an answer counts as not checked.
readiness-note = { readiness-never-good } Answers go into the gate file under [readiness.answers].
    Local regulations and licensed practice take precedence; electrical checks are for a qualified person.
readiness-before = Before the gate was driven:
readiness-errors = Answers that cannot be read:
readiness-no-section = The gate file has no [readiness]. Not checked:
readiness-column-check = check
readiness-column-answer = answer
readiness-column-source = source

## An answer and what it may be

checked = { $answer_code ->
    [none] { $permitted_code ->
        [yes] no answer
       *[other] no value; { $permitted }
    }
    [value] { $answer }; { $permitted }
   *[other] { $answer }
}
answer-none = no answer
answer-yes = yes{ $remark ->
    [none] {""}
   *[other] : { $remark }
}
answer-no = no{ $remark ->
    [none] {""}
   *[other] : { $remark }
}
answer-value = { $value } { $unit }{ $converted ->
    [none] {""}
   *[other] {" "}({ $converted })
}
answer-not-applicable = { $reason }
converted = { SHORT($value, digits: 6) } { $unit }
permitted-yes = yes
permitted-value = permitted: { $at_least ->
    [none] {""}
   *[other] at least { $at_least } { $unit }
}{ $at_most ->
    [none] {""}
   *[other] { $at_least ->
        [none] {""}
       *[other] {", "}
    }at most { SHORT($at_most, digits: 6) } { $unit }
}{ $below ->
    [none] {""}
   *[other] { $at_least ->
        [none] {""}
       *[other] {", "}
    }below { SHORT($below, digits: 6) } { $unit }
}
permitted-unknown = permitted value unknown: { $no_rating }
no-rating-no-mass = the gate file does not give drive.rated_mass_kg
no-rating-no-pull = the gate file does not give drive.rated_pull_n
no-rating-no-mass-nor-pull = the gate file gives neither drive.rated_pull_n nor drive.rated_mass_kg
no-rating-other-unit = the rating is in { $rating_unit } and the check in { $unit }

answer-error-no-such-check = readiness.answers.{ $name } is `{ $found }`: no check has this name
answer-error-other-leaf = readiness.answers.{ $name } is `{ $found }`: this check is not for a { $motion } leaf
answer-error-no-value = readiness.answers.{ $name } is `{ $found }`: expected a number of 0 or more with its unit ({ $units }), such as "4 { $unit }", or "not applicable: " with the reason
answer-error-neither-yes-nor-no = readiness.answers.{ $name } is `{ $found }`: expected true or false, "yes" or "no" (a remark follows a colon), or "not applicable: " with the reason

## The pull by hand

pull-doubt-start-missing = the log starts with the leaf already pulled, so its start may be missing
pull-doubt-lost-rows = { $rows ->
    [one] 1 row has no usable force
   *[other] { $rows } rows have no usable force
}
pull-doubt-averaging = the log states that it averages ({ $averaging })
rated-by-command-line = given with --rating
rated-by-gate-file = drive.rated_pull_n of the gate file
rated-by-share-of-rated-mass = { reference-practice-share-of-rated-mass }

## Sources of checks and documents

check-reference = { $source_code ->
    [chosen] { $reference }
   *[other] { $reference } ({ $source })
}
reference-practice = common practice, no source
reference-practice-share-of-rated-mass = common practice, no source: below 12 kgf for a drive rated 300 kg and 20 kgf for one rated 500 kg; other ratings by the same share of 4 %
reference-trade-guidance = trade guidance
reference-trade-guidance-varies = trade guidance (500 mm elsewhere)
reference-france-1993 = France, arrêté of 21 December 1993
reference-france-1993-existing = France, arrêté of 21 December 1993 (existing doors)
reference-uk-machinery-2008 = Supply of Machinery (Safety) Regulations 2008 (UK)
reference-uk-machinery-2008-eu-2023 = Supply of Machinery (Safety) Regulations 2008 (UK); Regulation (EU) 2023/1230: kept at least 10 years

## The checks: a question to which "yes" is right, or a value

check-own = { $question }
    .why = { $why ->
        [none] {""}
       *[other] { $why }
    }
check-leaf-mass = Is the leaf no heavier than the drive is rated for?
    .why = a drive beyond its rating may not hold its set forces
check-pull-to-start = Greatest force to start the leaf by hand, drive released
    .why = a leaf that runs hard needs a higher force setting of the drive
check-pull-to-keep-moving = Greatest force to keep the leaf moving by hand along its whole travel, drive released
    .why = where the leaf binds, the drive detects a false obstruction or misses a real one
check-moves-freely = Does the leaf move freely by hand over its whole travel and stay where it is left?
    .why = a leaf that runs hard, or by itself, needs a higher force setting of the drive
check-guide-rollers = Are the guide rollers secure and aligned?
    .why = with a loose guide the leaf can lean and fall
check-hinges = Are the hinges secure and without play, and is the leaf secured against being lifted off?
    .why = a leaf that drops from its hinges can fall on a person
check-leaf-cannot-fall = Is the leaf secured against falling, in any position and with any single part broken?
    .why = a falling leaf can kill
check-lift-of-closed-leaf = How far can the closed leaf be lifted at its anti-lift device?
    .why = a leaf that can be lifted leaves its track or the pinion
check-end-stops = Are there end stops at both ends of the travel that hold the leaf by themselves?
    .why = the drive can lose its learned limits; without a stop the leaf then leaves its guides
check-catch-bracket = Does a catch hold the closed leaf at its leading end?
    .why = wind and people push the free end sideways
check-slope = Is the travel level, or does the drive hold and move the leaf on its slope?
    .why = on a slope the weight of the leaf adds to the force or reduces it, and a released leaf runs away
check-rack-clearance-least = Least clearance between rack and pinion over the whole length of the rack
    .why = without clearance the leaf rests on the pinion
check-rack-clearance-greatest = Greatest clearance between rack and pinion over the whole length of the rack
    .why = with too much clearance the teeth disengage
check-rack-fixings = Greatest distance between two fixings of the rack
    .why = a rack that bends between its fixings changes its clearance
check-ground-and-services = Are ground, drainage and buried services at the drive known and in order?
    .why = water rises into the drive, and digging or drilling hits cables and pipes
check-base-flush = Is the base of the drive flush with the entrance, with no edge to trip over?
    .why = people and wheels catch on it
check-isolator-within-reach = How far from the drive is its isolator, which disconnects all poles?
    .why = the power must be isolated before an obstruction is cleared
check-own-circuit-breaker = Does the drive have its own circuit breaker?
    .why = another fault on the same circuit stops the gate, and the drive cannot be locked off alone
check-protective-earth = Are the drive and all exposed metal connected to the protective earth, with the connection measured, and is there surge protection?
    .why = a gate stands outdoors and is touched with wet hands
check-screens-earthed = Are the screens of screened cables earthed as the drive's instructions say?
    .why = interference on sensor cables stops the gate, or prevents it from stopping
check-limits-learned = Were the end positions relearned after the last mechanical change?
    .why = otherwise the slow-down and the end zones are in the wrong place
check-beam-height = Height of the light beams above the ground
    .why = a beam too high misses a child; one too low reacts to leaves and snow
check-beam-distance = Distance of the light beams from the leaf
    .why = a person between beam and leaf is not detected
check-beams-tested = Did each light beam act as intended when interrupted while the leaf moved?
    .why = a beam that is wired or programmed wrongly looks like one that works
check-obstruction-on-opening = Does an obstruction on opening stop the leaf?
    .why = a person is caught between the leaf and what is beside it
check-obstruction-on-closing = Does an obstruction on closing stop and reverse the leaf?
    .why = otherwise a person stays trapped
check-manual-release = Does the manual release work from where a person can reach it, and does the leaf then move by hand?
    .why = without it a trapped person cannot be freed when the power is off
check-controls-not-through-leaf = Are all controls out of reach through or over the moving leaf?
    .why = a person who reaches through to a switch is drawn in by the leaf
check-signs = Do signs on both sides warn that the gate moves automatically?
    .why = visitors do not expect it
check-lighting = Lighting of the ground at the gate, where the public comes by
    .why = a moving leaf in the dark is not seen
check-flash-before-motion = Time for which the orange light flashes before the leaf moves, where the public comes by
    .why = without warning nobody can step back

## Documents that belong to a powered gate

paper-declaration = declaration of conformity and marking: who assembled leaf and drive, when, under which rules
    .why = whoever assembles the gate and its drive is its manufacturer
paper-technical-file = technical file, or who keeps it
    .why = it states what was decided on each hazard, and why
paper-instructions = user instructions in the owner's language
    .why = release, clearing an obstruction, care
paper-service-log = log of service and repairs
    .why = France requires service at least every six months, with a log; elsewhere it shows what changed since the last test
paper-hazard-assessment = assessment of the hazards of this gate at this place
    .why = a force test does not cover hinge side, lower edge, drawing-in and falling
paper-force-tests = earlier force tests with their raw logs and the certificates of the gauge
    .why = logs can be assessed again under another edition; printed peaks cannot
paper-drive = drive: instructions, rating plate, firmware, settings as left
    .why = rated mass and pull, and what a changed setting is compared with
paper-safety-devices = edges and light beams: data sheets, wiring, monitoring, date of fitting
    .why = an unmonitored device fails unnoticed
paper-leaf = leaf: mass, dimensions, drawings, later additions (infill, sign, lock)
    .why = added mass, and a closed infill in the wind, change every force
paper-electrical = electrical: wiring plan, circuit and isolator, test of the protective earth
    .why = an unknown circuit cannot be isolated
paper-accidents = accidents, complaints and nuisance stops so far
    .why = they show where the gate binds and who is at risk
