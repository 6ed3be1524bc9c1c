# relent, English

told-odd-one = { $test_point }: { $measure }: { $remark }
told-not-assessed = { $test_point }: tested and not assessed: { $no_limit }

not-measured-asks = the log leaves a question open: { $questions }
not-measured-refused = the log could not be read: { $error }

not-placed-does-not-fit = { $rest ->
    [none] { $file }: the name does not fit the pattern `{ $pattern }`: expected { $expected } at the end
   *[other] { $file }: the name does not fit the pattern `{ $pattern }`: expected { $expected } at `{ $rest }`
}
    .help = rename the log, change logs.names, or move the file out of the folder
not-placed-two-readings = { $file }: the name fits the pattern `{ $pattern }` in two ways: { $first }, or { $second }
    .help = use a mark in logs.names that cannot be part of a number
not-placed-height-unknown = { $known_there ->
    [true] { $motion_code ->
        [vertical] { $file }: `{ $word }` cannot be turned into mm: the gate file gives no clear_opening_mm or leaf_width_mm, or one too small
       *[other] { $file }: `{ $word }` cannot be turned into mm: the gate file gives no leaf_height_mm, or one too small
    }
   *[other] { $motion_code ->
        [vertical] { $file }: `{ $word }` cannot be turned into mm: on a vertical leaf the place is left, middle or right
       *[other] { $file }: `{ $word }` cannot be turned into mm: the height is low, half or top
    }
}
    .help = write the place in mm, in the name of the log
not-placed-beyond-leaf = { $file }: no such test point: height { $height_mm } mm, but { $key } is { $size_mm } mm
    .help = correct the name of the log, or the gate file
not-placed-beyond-opening = { $file }: no such test point: gap { $gap_mm } mm, but clear_opening_mm is { $opening_mm } mm
    .help = correct the name of the log, or the gate file
not-placed-same-hit = { $first } and { $second } both claim { $test_point }, repeat { $repeat }
    .help = give each hit its own repeat number, or declare one of them void with a reason ([[logs.void]]): neither was used
not-placed-listed-twice = { $file } is listed { $times } times: a log holds one hit
    .help = list each log once: it was not used
not-placed-not-there = { $file } is listed but not in the folder of the logs
    .help = check logs.folder and the spelling, or take it from the list
not-placed-not-listed = { $file } is in the folder of the logs but not in the list
    .help = add it to [[logs.list]], or move it out of the folder


told-own-limits = { $based_on ->
    [none] own limits, not those of a profile of relent
   *[other] { $changes_count ->
        [one] own limits based on { $based_on }; { $changes_count } value changed: { $changes }
       *[other] own limits based on { $based_on }; { $changes_count } values changed: { $changes }
    }
}
change = { $limit } { $from } → { $to } { $unit }
told-chosen-points = { $points ->
    [one] { $points } test point chosen by the tester
   *[other] { $points } test points chosen by the tester
}
told-hit-over = { $test_point }: { $measure }: { $remark }
told-void-hit = { $peak_n ->
    [none] { $test_point }: hit { $hit } ({ $log }) declared void, without a value: { $reason }
   *[other] { $test_point }: hit { $hit } ({ $log }) of { FIXED($peak_n, digits: 0) } N declared void: { $reason }
}
told-not-measured = { $log }: { $not_measured }
told-not-placed = not assessed: { $not_placed }
told-ignored = no logs by their names: { $files }
not-measured-unreadable = the file cannot be read: { $error }
