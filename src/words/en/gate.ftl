# What a gate file says, leaves open and gets wrong.

gap-gauge = no gauge described: no finding can be within a limit
gap-gauge-serial = no serial number of the gauge: its readings cannot be told from those of another gauge
gap-calibrated-on = no date of calibration: findings within a limit stay undecided
gap-calibration-due = no end of calibration: findings within a limit stay undecided
gap-accuracy = neither accuracy nor certificate of the gauge: no uncertainty can be stated
gap-spring-rate = no spring rate of the gauge: it cannot be checked against the profile; energy and over-travel cannot be computed
gap-capacity = no capacity of the gauge: a clipped peak may go unnoticed
gap-zeroes-itself = not stated whether the gauge zeroes itself: a log without a quiet stretch has no zero
gap-visit = no visit described: the test points and the validity of the calibration on that day are unknown
gap-tested-by = tester not named
gap-temperature = no temperature: forces differ between winter and summer
gap-wind = no wind: wind on a closed infill adds force
gap-supply = no supply voltage: a weak supply changes the force
gap-opening-side = not stated what the opening leaf comes near: it is open whether hits on opening are required
gap-leaf-height = no height of the leaf: the required test points are unknown
gap-leaf-width = no width of the leaf: the required test points are unknown
gap-clear-opening = no clear opening: the required test points are unknown
gap-leaf-mass = no mass of the leaf: forces cannot be predicted
gap-firmware = no firmware version of the drive: results cannot be assigned to a version
gap-logs = no logs named: no test point is tested

gate-warning-unusual = { $key } is { $value }{ $unit ->
    [none] {""}
   *[other] { " " }{ $unit }
}: such values usually lie between { $usual_from } and { $usual_to }{ $unit ->
    [none] {""}
   *[other] { " " }{ $unit }
}
    .help = { $slip ->
        [none] {""}
       *[other] { $slip }
    }
gate-warning-calibration-expired = the calibration of the gauge expired on { $due }, before the visit on { $visit }: findings within a limit stay undecided
    .help = if the gauge has been calibrated since, add that certificate under [[gauge.certificates]] with how the gauge was found, and assess again
gate-warning-calibrated-after-visit = the gauge was calibrated on { $calibrated }, after the visit on { $visit }: this calibration does not cover the visit
    .help = state the calibration that was in force on the day of the visit
gate-warning-leaf-heavier-than-rated = the leaf ({ $leaf_kg } kg) is heavier than the drive is rated for ({ $rated_kg } kg)
    .help = check both masses; a drive beyond its rating may not hold its set forces

slip = if { $value } { $meant } was meant, write { $write }

event-drive = the drive was changed
event-motor = the motor was changed
event-gear = the gear was changed
event-edge = the edge was changed
event-leaf = the leaf was changed
event-setting = a setting of the drive was changed
event-firmware = the firmware of the drive was changed
event-relearn = the drive relearned its travel or forces
event-repair = the gate was repaired
event-gauge = the gauge was repaired, adjusted or dropped
event-remark = remark

shown-manual-release = how to release the drive, move the leaf by hand and lock it again
shown-clearing-an-obstruction = how to clear an obstruction: isolate the power, release the drive, then clear it
shown-controls-out-of-reach = keep transmitters and switches away from children, and children and pets away from the moving leaf
shown-beams-and-edges = what the light beams and edges detect and what they do not, and how to test them
shown-when-it-misbehaves = what to do when the gate misbehaves: stop using it, isolate the power, release the drive, call
