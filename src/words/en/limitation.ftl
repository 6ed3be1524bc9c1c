# What a record or a gauge cannot show: the finding, then the number; `.help` says what to do.

limitation-flat-top = Top of the hit clipped: flat for { FIXED($lasts_ms, digits: 1) } ms ({ $samples } samples) at { FIXED($force_n, digits: 1) } N. The true peak may be higher.
    .help = Repeat the hit with a gauge or a range of greater capacity.
limitation-at-capacity = { $set_by_code ->
    [range] Range of the logger reached: { FIXED($force_n, digits: 1) } N of { $capacity_n } N, as the log says. The true peak may be higher.
   *[other] Capacity of the gauge reached: { FIXED($force_n, digits: 1) } N of { $capacity_n } N. The true peak may be higher.
}
    .help = { $set_by_code ->
        [range] Set a greater range and repeat the hit.
       *[other] Repeat the hit with a gauge of greater capacity.
    }
limitation-other-day = The log is dated { $logged_on }, the visit { $visited_on }.
    .help = Correct the date of the visit, or enter the day under [logs] days and say why in the notes of the visit.
limitation-other-gauge = The log names the gauge “{ $logged_serial }”, the gate file “{ $gauge_serial }”.
    .help = Correct the gauge in the gate file, or enter the number under [logs] gauges and say why in the notes of the visit.
limitation-slow-sampling = { $lone_n ->
    [none] Too few samples on the top of the hit: the true peak may be up to { FIXED($unseen_n, digits: 1) } N above the highest sample ({ FIXED($peak_n, digits: 1) } N).
   *[other] Lone sample of { FIXED($lone_n, digits: 1) } N before contact, higher than the peak of { FIXED($peak_n, digits: 1) } N and too short to tell from a disturbance.
}
    .help = Repeat the hit with a higher sampling rate.
limitation-fewer-samples = { $filling_code ->
    [held] Fewer readings than rows: the sensor holds each for { FIXED($rows, digits: 1) } rows ({ FIXED($true_rate_hz, digits: 0) } readings a second).
   *[other] Fewer readings than rows: straight lines of { FIXED($rows, digits: 1) } rows join them ({ FIXED($true_rate_hz, digits: 0) } readings a second).
} The true peak may be up to { FIXED($unseen_n, digits: 1) } N above the highest reading ({ FIXED($peak_n, digits: 1) } N).
    .help = Repeat the hit with a sensor as fast as the logger.
limitation-lone-sample = { $samples ->
    [one] A lone sample of { FIXED($force_n, digits: 1) } N at { FIXED($at_s, digits: 4) } s is faster than a leaf can move.
   *[other] { $samples } lone samples, the highest { FIXED($force_n, digits: 1) } N at { FIXED($at_s, digits: 4) } s, are faster than a leaf can move.
} { $peak_without_n ->
    [none] Without it there is no contact.
   *[other] Peak force without: { FIXED($peak_without_n, digits: 1) } N.
}
    .help = Check cable, plug and supply of the gauge, and repeat the hit.
limitation-later-contact = The gauge was touched again { FIXED($apart_s, digits: 1) } s after the leaf let go, with up to { FIXED($peak_n, digits: 1) } N. { $peak_without_n ->
    [none] Without that there is no contact.
   *[other] Peak force without: { FIXED($peak_without_n, digits: 1) } N.
}
    .help = Keep the gauge still and the leaf away from it until the recording ends, and repeat the hit.
limitation-lost-samples = { $rows ->
    [one] { $rows } row
   *[other] { $rows } rows
} of the hit without a usable force, first in line { $line } (“{ $found }”). A higher force may have gone unseen.
    .help = Export the log again or repeat the hit.
limitation-clock-gap = { $gaps ->
    [one] { $gaps } gap
   *[other] { $gaps } gaps
} in the hit, first at { FIXED($first_s, digits: 4) } s, longest { FIXED($longest_ms, digits: 1) } ms. A higher force may have gone unseen.
    .help = Repeat the hit, or export the log again with all rows.
limitation-averaging = The logger averages (“{ $declared }”): short peaks read too low, times are smeared.
    .help = Turn the averaging off and repeat the hit.
limitation-ends-early = { $still_above_count ->
    [0] Recording too short: { FIXED($ends_s, digits: 3) } s after contact, { $needs_s } s required.
   *[other] Recording ends while the leaf still presses with { FIXED($presses_n, digits: 1) } N, { FIXED($ends_s, digits: 3) } s after contact.
}
    .help = { $still_above_count ->
        [0] Let the logger run longer and repeat the hit.
       *[other] Let the logger run until the leaf lets go and repeat the hit.
    }
limitation-starts-in-contact = Recording starts with the leaf on the gauge, at { FIXED($force_n, digits: 1) } N.
    .help = Start the logger before the leaf moves and repeat the hit.
limitation-no-zero = { $zero_from_code ->
    [lowest-stretch] No quiet stretch to take the zero from ({ $unmeasured }). Forces are counted from the lowest level in the recording and may be higher.
   *[other] No quiet stretch to check the zero of the gauge: a small force at the end cannot be told from a shifted zero.
}
    .help = { $zero_from_code ->
        [lowest-stretch] Start the logger at least half a second before the leaf arrives, or declare that the gauge zeroes itself.
       *[other] Start the logger at least half a second before the leaf arrives.
    }
limitation-drift = Zero shifted by { FIXED($drift_n, digits: 1) } N during the hit; { $residual_level_n } N may remain. A remaining force cannot be told from the shift.
    .help = Zero the gauge, let it settle and repeat the hit.
limitation-capacity-below-limit = Capacity of the gauge ({ $capacity_n } N) not above the limit ({ $limit_n } N): a higher force would not be seen.
    .help = Repeat the hit with a gauge of greater capacity.
limitation-spring-rate = { $rate_n_mm ->
    [none] Spring rate of the gauge not known; { $required_n_mm } ± { $either_way_n_mm } N/mm required.
   *[other] Spring rate of the gauge { $rate_n_mm } N/mm; { $required_n_mm } ± { $either_way_n_mm } N/mm required.
}
    .help = { $rate_n_mm ->
        [none] Enter the spring rate in the gate file, or use a gauge of that rate.
       *[other] Use a gauge of that rate.
    }
limitation-calibration = Calibration of the gauge does not cover the test on { $tested_on }: { $uncovered }. Until a certificate covers it, readings count as uncertain by { $may_err }.
    .help = Enter a certificate that covers that day in the gate file.
limitation-gauge-accuracy = { $accuracy_percent ->
    [none] Accuracy of the gauge not known; ± { SIGNIFICANT($required_percent, digits: 2) } % required. Readings may be wrong by { $may_err }.
   *[other] Gauge accurate to ± { SIGNIFICANT($accuracy_percent, digits: 2) } % of { $at_force_n } N; ± { SIGNIFICANT($required_percent, digits: 2) } % required. Readings may be wrong by { $may_err }.
}
    .help = { $accuracy_percent ->
        [none] Enter the accuracy or the certificate of the gauge in the gate file.
       *[other] Repeat the hits with a gauge that meets the requirement.
    }
limitation-no-reading = No reading: { $seen }.
    .help = { $seen_code ->
        [negative] Read the log again with --invert, or check the channel.
        [all-equal] Check the channel, the cable and the gauge, and repeat the hit.
        [below-contact-level] Check that the leaf hit the gauge, check the channel and its unit, and repeat the hit.
       *[other] Check the channel and its unit.
    }
limitation-copy = Copy, not a new hit: { $originals }.
    .help = Name each log once, at the place where it was measured, and repeat the missing hit.

original = { $alike } { $folder ->
    [none] { $log }
   *[other] { $visited_on ->
        [none] { $log } of an earlier visit ({ $folder })
       *[other] { $log } of the visit on { $visited_on } ({ $folder })
    }
}
alike-samples = same samples as in
alike-noise = same noise ({ $correlation_percent } %) as in
alike-steps = same steps as in

may-err = { $newtons_n ->
    [0] ± { SIGNIFICANT($percent, digits: 2) } %
   *[other] { $percent ->
        [0] ± { SIGNIFICANT($newtons_n, digits: 2) } N
       *[other] ± { SIGNIFICANT($percent, digits: 2) } % and ± { SIGNIFICANT($newtons_n, digits: 2) } N
    }
}

uncovered-found-outside = the calibration of { $found_on } found it outside its limits of error
uncovered-gauge-changed = repaired, adjusted or dropped on { $changed_on }, after its calibration on { $calibrated_on }
uncovered-expired = { $later ->
    [none] expired on { $until }
   *[other] expired on { $until }; { $later }
}
uncovered-calibrated-after = first calibrated on { $calibrated_on }
uncovered-not-known = { $later ->
    [none] no calibration before the test is known
   *[other] no calibration that covers it is known; { $later }
}

later-gauge-changed-between = the calibration of { $calibrated_on } found it within its limits of error, but it was repaired, adjusted or dropped in between
later-as-found-not-stated = the calibration of { $calibrated_on } counts for the test only if its certificate states as found within the limits of error (as_found = "within")

seen-negative = forces from { FIXED($least_n, digits: 1) } N to { FIXED($greatest_n, digits: 1) } N; a push may have been logged as negative
seen-all-equal = all forces are equal
seen-below-contact-level = the force never stays above the contact level of { $level_n } N (greatest { FIXED($greatest_n, digits: 1) } N)
seen-beyond-calculation = the forces are too large to calculate with

standing-full = valid
standing-lower-bound = lower bound only
standing-either-way = uncertain either way
