# Words and phrases that several messages share.

list-comma = {", "}

hits = { $count ->
    [one] { $count } hit
   *[other] { $count } hits
}

test-point = { $hazard_code ->
    [closing-edge] { $direction }, gap { $gap_mm } mm, height { $height_mm } mm
   *[other] { $direction }, { $hazard }, gap { $gap_mm } mm, height { $height_mm } mm
}

# A day in words.
date = { $day } { $month ->
    [1] January
    [2] February
    [3] March
    [4] April
    [5] May
    [6] June
    [7] July
    [8] August
    [9] September
    [10] October
    [11] November
   *[12] December
} { $year }

gates = { $count ->
    [one] { $count } gate
   *[other] { $count } gates
}

folders = { $count ->
    [one] { $count } folder
   *[other] { $count } folders
}
