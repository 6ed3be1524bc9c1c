# Measures, why one has no value, and how the leaf answered.

measure-zero = zero
measure-noise = noise
measure-drift = zero drift
measure-contact = contact
measure-peak-force = peak force
measure-peak-at = time to peak
measure-time-above-static = time above the static level
measure-dynamic-period = dynamic period
measure-static-force = static force
measure-residual-force = residual force
measure-time-above-residual = time above the residual level
measure-mean-dynamic-force = mean dynamic force
measure-effective-force = effective force
measure-impulse = impulse
measure-release = release
measure-stop-time = stop time
measure-reversal-time = reversal time
measure-over-travel = over-travel
measure-energy = energy taken by the gauge
measure-approach-speed = approach speed

level-static = static level
level-residual = residual level

basis-force = force
basis-position = position
basis-speed = speed
basis-declared = declared speed

# After "the leaf".
answer-stops-and-reverses = stops and reverses
answer-stops-and-lets-go = stops and lets go
answer-stops-and-holds = stops and holds
answer-pushes-through = pushes through
answer-no-contact = makes no contact

unmeasured-beyond-calculation = forces of { $greatest_n } N over { $lasts_s } s are too large to calculate with
unmeasured-not-finite = the result is not a finite number
unmeasured-record-too-short = recording too short: { FIXED($ends_s, digits: 3) } s after contact, { $needs_s } s required
unmeasured-no-sample-between = no sample between { $from_s } s and { $to_s } s after contact
unmeasured-no-contact = no contact: the force never stays above the contact level for 2 samples and 1 ms
unmeasured-starts-in-contact = the recording starts with the leaf on the gauge: no instant of contact
unmeasured-not-released = the recording ends while the leaf still presses
unmeasured-no-quiet-end = no quiet stretch of 20 samples and 50 ms after release
unmeasured-no-speed = no position or speed channel before contact, and no declared speed
unmeasured-no-spring-rate = spring rate of the gauge not known
unmeasured-no-position-nor-spring-rate = no position channel, and spring rate of the gauge not known
unmeasured-no-complete-pulse = no complete pulse between two crossings of { $level_n } N
unmeasured-never-stops = { $basis_code ->
    [speed] the speed of the leaf never falls to zero
    [position] the leaf never stands still
   *[other] the force never falls back from a maximum
} before the recording ends
unmeasured-never-reverses = the leaf never moves away for 20 ms after its stop
unmeasured-too-few-samples = no zero: only { $samples ->
    [one] { $samples } sample
   *[other] { $samples } samples
}
unmeasured-not-quiet = no zero: the force is not quiet in the first 50 ms (noise { FIXED($noise_n, digits: 1) } N)
unmeasured-quiet-too-short = no zero: only { FIXED($quiet_ms, digits: 0) } ms ({ $samples ->
    [one] { $samples } sample
   *[other] { $samples } samples
}) quiet before the leaf arrives; 50 ms and 20 samples required
unmeasured-opens-pressed = no zero: the recording starts at { FIXED($opens_n, digits: 1) } N although the gauge zeroes itself, so the leaf was already pressing
unmeasured-rests-lower = no zero: the recording starts at { FIXED($opens_n, digits: 1) } N and later rests at { FIXED($rests_n, digits: 1) } N, so the leaf was already pressing
unmeasured-low-pass-too-high = sampling rate of { FIXED($rate_hz, digits: 0) } Hz too low for a low-pass at { $corner_hz } Hz
unmeasured-low-pass-too-few-samples = the prescribed two-pass low-pass needs more than { $needs } samples
unmeasured-low-pass-uneven-rate = the prescribed low-pass needs samples at an even rate without gaps
unmeasured-log-not-read = the log could not be read
unmeasured-log-asks = the log leaves a question open
unmeasured-no-valid-reading = no valid reading
unmeasured-other-quantity = the reading is in { $unit }, which is not the unit of the limit
unmeasured-not-tested = not tested
