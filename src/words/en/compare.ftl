# relent, English

excluded-no-value = { $unmeasured }
excluded-lower-bound = lower bound only: { $limitations }
excluded-not-valid = reading not valid: { $limitations }
excluded-no-partner = the other series has no reading of a hit of this number
