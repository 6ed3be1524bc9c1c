# Words and phrases that several messages share.

list-comma = , 

hits = { $count ->
    [one] { $count } hit
   *[other] { $count } hits
}

test-point = { $hazard_code ->
    [closing-edge] { $direction }, gap { $gap_mm } mm, height { $height_mm } mm
   *[other] { $direction }, { $hazard }, gap { $gap_mm } mm, height { $height_mm } mm
}
