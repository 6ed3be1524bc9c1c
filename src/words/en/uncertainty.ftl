# The components of an uncertainty.

component-calibration = calibration
component-resolution = resolution
component-zero-noise = noise of the zero
component-zero-drift = zero drift
component-sampling = sampling
component-spring-rate = spring rate
component-repeatability = repeatability
component-repeatability-pooled = repeatability, pooled over { $points } test points
component-repeatability-declared = repeatability, as declared in the gate file
component-noise-of-one-hit = noise of a single hit
component-sampling-step = sampling step
component-noise-at-level = noise at the level
component-calibration-at-level = calibration at the level
component-clock-jitter = clock jitte
component-greatest-of-noise = greatest of the noise
component-instant-from-force = instant read from the forcer
