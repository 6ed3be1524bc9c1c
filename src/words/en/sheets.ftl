# relent, English

## The plan of a visit

plan-sheet-sentence = { $gate }: { $hits ->
    [one] 1 hit
   *[other] { $hits } hits
} at { $points ->
    [one] 1 test point
   *[other] { $points } test points
} (scheme “{ $scheme }”, { $profile }); { $missing } to do.
plan-sheet-source = Source of the scheme: { $source }.
plan-sheet-tab = { $gate } · test points
plan-sheet-title = Test points of { $gate }
plan-sheet-drawing = { $points ->
    [one] 1 test point
   *[other] { $points } test points
}, numbered as in the table below.
plan-sheet-caption = Seen from the front with the leaf closing to the right; the gate may be the mirror image. Dashed squares: to be tested.
plan-sheet-column-number = no
plan-sheet-column-gap = gap, mm
plan-sheet-column-height = height, mm
plan-sheet-column-from-left = from left, mm
plan-sheet-column-hits = hits
plan-sheet-column-why = reason
plan-sheet-column-where = place and reason
plan-sheet-column-hit = hit { $hit }, N
plan-sheet-column-save-as = save as
plan-sheet-there = recorded
plan-sheet-all-there = Every required hit has a log of its name; `relent assess` reads them.
plan-sheet-save-as = Save each hit in a file of its own, the first as { $first }; --names lists all { $names }.
plan-sheet-no-pattern = The gate file has no pattern that names all of these hits: write [logs] names with {"{hazard}"} and {"{repeat}"} in it, or list the logs one by one.
plan-sheet-note = Note: { $note }.
plan-sheet-notes = Left out or moved
plan-sheet-hazards = Hazards that a force test does not cover: assess each by other means
plan-sheet-column-hazard = hazard
plan-sheet-column-instead = what to do instead
plan-sheet-column-found = finding
plan-sheet-site = On site
plan-sheet-site-time = date and time
plan-sheet-site-tester = tested by
plan-sheet-site-gauge = gauge, serial number, calibration due
plan-sheet-site-support = extension, support and angle of the gauge
plan-sheet-site-weather = temperature, wind
plan-sheet-site-supply = supply voltage or battery
plan-sheet-site-drive = drive, firmware, settings as found
plan-sheet-site-changes = changes made during the visit
plan-sheet-own-notes = Notes

## A pull by hand

pull-sheet-force = { $newtons } N ({ $kilograms } kgf)
pull-sheet-outcome-unrated = Greatest force { $worst }: undecided because the rating of the drive is not known.
pull-sheet-outcome = Greatest force { $worst }, rating { $rating }, margin { $margin }: { $verdict ->
    [within] within the rating.
    [over] over the rating.
   *[undecided] undecided because { $reasons }.
}
pull-sheet-tab = { $file } · pull by hand
pull-sheet-title = Force to move the leaf by hand
pull-sheet-break-away = break-away
pull-sheet-steady = steady
pull-sheet-greatest = greatest after the start
pull-sheet-pulled = pulled
pull-sheet-rating = rating
pull-sheet-rolling = rolling and slope
pull-sheet-at = { $force }, at { $at } { $unit }
pull-sheet-median = { $force } (median along the travel)
pull-sheet-travel = from { $from } to { $to } { $unit }; the first { $start } { $unit } count as the start
pull-sheet-below = below { $force }: { $source }
pull-sheet-model = { $force } for { $mass_kg } kg, μ { $friction }, slope { $slope_percent } %; the steady force corresponds to μ { $seen }
pull-sheet-binds = { $places ->
    [0] Binds nowhere (no force above { $above } times the steady force)
    [one] Binds at one place (above { $above } times the steady force)
   *[other] Binds at { $places } places (above { $above } times the steady force)
}
pull-sheet-bind = { $from } to { $to } { $unit }: up to { $force }
pull-sheet-caption = { $places ->
    [0] The leaf binds nowhere.
   *[other] Shaded: where the leaf binds.
}
pull-sheet-doubt = The true forces may be greater: { $doubt }.
pull-sheet-note = Forces as logged, not zeroed: check that the gauge reads 0 unloaded. Before the pull, release the drive and isolate its power; keep out of the path of the leaf.
pull-sheet-plot = Force along the travel
pull-sheet-axis-force = force, N
pull-sheet-axis-travel = travel, mm
pull-sheet-axis-time = time, s
pull-sheet-label-steady = steady { $force_n } N
pull-sheet-label-rating = rating { $force_n } N
pull-sheet-label-break-away = break-away { $force_n } N

## For the owner, and the handover

handover-tested = { $day ->
    [none] We placed a force gauge in the path of the gate and let the leaf close on it.
   *[other] On { $day } we placed a force gauge in the path of the gate and let the leaf close on it.
}
handover-over = At { $over } of { $places } places the force was over the limit, or acted longer than the limit.
handover-within = { $places ->
    [one] At the place tested the force stayed within the limits assessed.
   *[other] At all { $places } places the force stayed within the limits assessed.
}
handover-undecided = It could not be shown everywhere that the force stays within the limits.
handover-left-open = { $undecided ->
    [0] {""}
    [one] At 1 place the readings decide nothing.
   *[other] At { $undecided } places the readings decide nothing.
}
handover-untested = { $untested ->
    [0] {""}
    [one] 1 required place was not tested.
   *[other] { $untested } required places were not tested.
}
handover-do-not-use-over-and-failed = Do not use this gate: forces are over the limit, and other items are not in order. Take it out of service, or keep everyone away from it while it moves, until both are corrected and tested again.
handover-do-not-use-over = Do not use this gate: forces are over the limit. Take it out of service, or keep everyone away from it while it moves, until this is corrected and tested again.
handover-do-not-use-failed = Do not use this gate: at least one item on it is not in order. Take it out of service until it is corrected and checked again.
handover-not-in-order = Not in order on the gate itself:
handover-checks-open = { $open ->
    [one] 1 of { $checks } checks of the gate itself has no answer.
   *[other] { $open } of { $checks } checks of the gate itself have no answer.
}
handover-what-a-test-shows = A force test shows how hard the leaf pushes at the places listed, on that day. It does not rule out every hazard: some places on a gate cannot be measured; they are listed at the end.
handover-next-visit = Next visit due: { $day }.
handover-next-visit-unknown = No date for the next visit is stated.
handover-due-at-once = A visit is due at once after:
handover-due-change = a repair, a new part, new firmware or a changed setting of the drive
handover-due-addition = an addition to the leaf: infill, sign, lock
handover-due-knock = a knock by a vehicle, a storm or ground movement
handover-due-accident = an accident, or any contact of the leaf with a person, even without injury
handover-due-running = a leaf that runs harder, louder or slower than before, or reverses without cause
handover-due-protection = a light beam, an edge or the manual release that does not work as shown
handover-caught = If someone is caught: switch the power off, release the drive by hand, move the leaf away. Do not try again with the power on.

handover-not-stated = The gate file has no [handover]: no item counts as done. Complete the list by hand.
handover-shown = Shown to the owner, and repeated by the owner
handover-ticked = done
handover-open = open
handover-documents = Documents handed over
handover-none-stated = None stated.
handover-maintenance = Maintenance
handover-maintenance-usual = Not stated. Common intervals: every six months in commercial use, yearly in light use (United Kingdom, second-hand); at least every six months with a log (France, read); a test before first use, after a major change and yearly (Germany, second-hand).
handover-due = Next visit due: { $day }, and at once after any event listed on the first page.
handover-who = role
handover-name = name
handover-date = date
handover-signature = signature
handover-by = Handed over by
handover-received = Received by
handover-date-is = date: { $day }
handover-signature-here = signature: ………………………

## The page for a gate that must not be used

note-tab = { $gate } · do not use
note-found = Found
note-over = { $place ->
    [none] {""}
   *[other] { $place }:{" "}
}{ $measure } { $value }, limit { $limit } { $unit } ({ $source })
note-more-over = and { $more ->
    [one] 1 more value over its limit
   *[other] { $more } more values over their limit
}, see the report
note-more-failed = and { $more ->
    [one] 1 more check not in order
   *[other] { $more } more checks not in order
}, see the report
note-done = Immediate action
note-done-power = power isolated and locked off
note-done-leaf = leaf released, secured by hand and left closed or open
note-done-sign = warning sign on both sides
note-done-entrance = entrance closed to pedestrians
note-told = Persons to inform
note-told-owner = the owner, in person and with this page
note-told-users = users or managers of the gate
note-told-maintenance = the maintenance company or the installer
note-told-authority = the authority, where local law requires it
note-tick = Not stated. Tick what was done:
note-back-in-use = Use the gate again only when the cause is corrected, every point is tested again and a person entitled to do so confirms it in writing. Local law says whom to inform and when; it takes precedence over this page.
note-signature = signature and date
note-told-by = Informed by
note-signature-here = signature, date: ………………………

## The summary on a terminal

terminal-place = { $hazard_code ->
    [closing-edge] { $direction }, { $where }
   *[other] { $direction }, { $hazard }, { $where }
}
terminal-no-test-point = log without a test point
terminal-state = { $place }: { $values }: { $state }
terminal-state-and-reasons = { $place }: { $values }: { $state }: { $reasons }
terminal-undecided = { $place }: { $values }: undecided because { $reasons }
terminal-missing = { $place }: { $found } of { $wanted } hits
