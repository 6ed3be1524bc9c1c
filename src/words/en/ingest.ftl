# What is told of how a log was read, and what is asked about it.

column = { $name ->
    [none] column { $number }
   *[other] column { $number } `{ $name }`
}

fraction = { column }

unclear-column = { $unit ->
    [none] { column } has no unit
   *[other] { column } has `{ $unit }`, which is not one unit of force
}

delimiter-comma = comma
delimiter-semicolon = semicolon
delimiter-tab = tab
delimiter-bar = vertical bar
delimiter-blanks = blanks
delimiter-none = none: one column

container-gzip = gzip file
container-json = JSON
container-zip = `{ $file }` in a zip archive
container-workbook = sheet `{ $sheet }` of a workbook

clock-numbers = { $column }, in { $unit }
clock-stamps = clock times in { $column }
clock-declared = { $rate_hz } Hz, declared on line { $line }: `{ $found }`
clock-answered = { $rate_hz } Hz, entered by hand

role-force = force
role-time = time
role-position = position of the leaf
role-speed = speed of the leaf
role-current = motor current
role-quality = quality mark
role-other = not used

notice-kind-archive = archive
notice-kind-cell = cell
notice-kind-clock-gap = clock gap
notice-kind-count = count
notice-kind-encoding = encoding
notice-kind-footer = footer
notice-kind-frozen = frozen
notice-kind-head = head
notice-kind-last-line = last line
notice-kind-missing = missing
notice-kind-clock = clock
notice-kind-outlier = outlier
notice-kind-quality = quality
notice-kind-rate = rate
notice-kind-remark = remark
notice-kind-repeated-instant = same time
notice-kind-thousands-mark = thousands
notice-kind-unit = unit
notice-kind-wrap = wrap
notice-kind-zero = zero

notice-file-left-out = `{ $file }` in the archive has no rows of numbers: left out
notice-bytes-replaced = bytes that are not { $encoding } replaced by U+FFFD
notice-bytes-after-the-end = { $bytes ->
    [one] one zero byte or end-of-file sign after the last line left out
   *[other] { $bytes } zero bytes or end-of-file signs after the last line left out
}
notice-other-digits = digits from `{ $zero }` on read as 0 to 9
notice-labels-as-heads = labels in front of the values read as headings: { $labels }
notice-lines-quoted = quotes around whole lines removed
notice-remark = `{ $found }`
notice-beyond-the-columns = text beyond the last column: `{ $found }`
notice-footer = `{ $found }`
notice-heads-again = headings repeated: `{ $found }`
notice-other-heads = other headings begin another table, not read: `{ $found }`
notice-rows-missing = the log is cut off or has lost rows: { $rows } rows found, { $missing } fewer than `{ $found }` declares
notice-other-count = `{ $found }` declares { $declared } rows; { $rows } found
notice-unit-of-mass = { $column }: `{ $found }` read as { $force_unit } (1 { $found } = { $unit_n } N)
notice-unit-declared = { $column } read in { $force_unit }, declared on line { $declared_line }
notice-force-unit-answered = { $column } read in { $force_unit } as entered by hand; the log says { $logged }
notice-time-unit-answered = { $column } read in { $time_unit } as entered by hand; the log says { $logged }
notice-time-unit-by-rate = { $column } has no unit; read in { $time_unit }, which agrees with the sampling rate ({ $clock })
notice-time-unit-by-step = { $column } has no unit; read in { $time_unit }: no other unit gives a plausible rate for its usual step of { $step }
notice-other-unit-beside = unit `{ $found }` differs from the rows before
notice-other-unit-in-cell = `{ $found }` is in { $force_unit }, not in the unit of its column
notice-newest-first = the log has its newest row first: { $rows } rows read in the order of their time
notice-clock-of-two = time read from { $column } and { $fraction }
notice-count-in-steps = { $column } rises by { $step } from row to row; the sampling rate is taken as the rate of the rows
notice-unit-changes = force read in { $force_unit } from here on: `{ $found }`
notice-sign-by-column = sign of the force taken from { $column }
notice-clock-mark = { $column } read with the decimal mark `{ $mark }`, unlike the force
notice-rate-overruled = declared sampling rate not used: { $column } gives { SIGNIFICANT($own_hz, digits: 6) } Hz, line { $declared_line } declares { $rate_hz } Hz: `{ $found }`
notice-cell-over-lines = quoted cell over { $lines } lines
notice-cells-joined = `{ $found }`: { $cells } cells joined to { $columns }
notice-no-force = no force in { $column }: `{ $found }`
notice-no-row = not a row of numbers: `{ $found }`
notice-no-instant = { $column ->
    [none] no time
   *[other] no time in { $column }
}
notice-no-instant-in-line = no time in `{ $found }`
notice-force-empty = no force in { $column }: empty cell
notice-force-not-finite = no force in { $column }: `{ $found }`
notice-marked = row marked `{ $found }`
notice-parted-by-thousands-mark = `{ $found }` had been split at its thousands mark
notice-thousands-mark = `{ $found }` read with a thousands mark
notice-no-line-end = the last line, `{ $found }`, has no line end: digits may be missing
notice-instant-repeated = { $rows } rows at { $instant_s } s, spread over { SIGNIFICANT($spread_s, digits: 4) } s
notice-clock-gap = no sample for { SIGNIFICANT($gap_s, digits: 4) } s; the usual step is { SIGNIFICANT($usual_s, digits: 4) } s
notice-clock-wrapped = the clock wraps from { $before } to { $after }; { $added } added from here on
notice-all-zero = all { $samples } forces are zero
notice-all-equal = all { $samples } forces are { $force_n } N
notice-stuck = { $samples } samples in a row at { $force_n } N, while most others change from sample to sample
notice-first-stands-out = first sample { $force_n } N, the next { $beside_n } N: possible outlier, kept
notice-last-stands-out = last sample { $force_n } N, the one before { $beside_n } N: possible outlier, kept
notice-stands-out = { $force_n } N between { $before_n } N and { $after_n } N: possible outlier, kept
notice-and-more = { $count } more of this kind

question-no-heads = which of the { $width } columns is the force? They have no headings.
question-heads-do-not-fit = which column is the force? { $heads } headings over { $width } columns: { $columns }
question-no-force-named = which column is the force? No heading names a measured force in a unit of force: { $columns }
question-head-says-too-little = is { $column } the force? Its heading alone does not say so.
question-several-forces = which column is the force? { $columns_count } may be: { $columns }
question-short-rows = which column is missing? { $rows } rows have fewer than { $width } cells between blanks.
question-wide-rows = which cell is the force? { $rows } rows have more numbers than the { $width } columns.
question-no-force-unit = which unit is the force in? No heading and no line names one.
question-force-unit-unclear = which unit is the force in? { $unclear_columns }
question-factor-beside-unit = by which factor are the numbers multiplied to be in their unit? { $column } names one beside its unit; 1 if they are in that unit as they stand.
question-several-times = which column is the time? { $columns_count } may be: { $columns }
question-no-time-named = which of the { $width } columns is the time? No heading says so.
question-instants-unreadable = which column is the time? { $rows } rows have no readable time, the first on line { $line }: `{ $found }`
question-no-time-unit = which unit is the time in? { $column } names none; { $usual_step ->
    [none] it has no usual step.
   *[other] its usual step is { $usual_step }.
}
question-one-column-without-rate = what is the sampling rate? The log has one column and declares no rate.
question-no-clock = what is the sampling rate? No column is a clock and no line declares a rate: { $columns }
question-two-rates = what is the sampling rate? Line { $line } declares { $rate_hz } Hz (`{ $found }`), line { $other_line } { $other_rate_hz } Hz (`{ $other_found }`); the rows begin on line { $first_line }.
question-count-rises-by = what is the sampling rate of the rows? { $column } rises by { $step } from row to row; { $rate_hz } Hz is declared.
question-sign-in-column = is a push positive? { $column } names a direction (`{ $found }`): rows of a pull are then read as negative.
question-unit-between = in which unit is the force before line { $line }? That line changes it to { $force_unit }: `{ $found }`
question-clock-mark-open = which is the decimal mark? `{ $found }` on line { $line }, { $column }, has another mark than the force: a thousands mark or a decimal mark.
question-clock-too-coarse = what is the sampling rate? { $column } is too coarse: it does not advance in { $still } of { $steps } steps over { SIGNIFICANT($span_s, digits: 6) } s.
question-two-marks = which is the decimal mark? Line { $point_line } has a point (`{ $point }`), line { $comma_line } a comma (`{ $comma }`).
question-mark-open = which is the decimal mark? `{ $found }` on line { $line } may have decimals or a thousands mark, and no other cell decides.
question-mark-contradicted = which is the decimal mark? The log declares `{ $declared }`, but `{ $found }` on line { $line } is a number only with `{ $used }`.
question-commas-may-be-marks = which is the decimal mark? From line { $line } on (`{ $found }`) rows have up to { $cells } cells under { $heads } headings and no decimal point: commas may be decimal marks too.
question-thousands-or-decimals = which is the decimal mark? `{ $found }` on line { $line }, { $column }, has a thousands mark and no decimals, or another decimal mark than the rest.
question-too-many-cells = { $inside ->
    [comma] which is the decimal mark? Line { $line } has { $cells } cells instead of { $width }: `{ $found }`. A comma may be a decimal or thousands mark inside a number.
    [comma-of-both] which commas separate cells? Line { $line } has { $cells } cells instead of { $width }: `{ $found }`. Commas are decimal marks and delimiters at once.
   *[delimiter] what separates the cells? Line { $line } has { $cells } cells instead of { $width }: `{ $found }`. A delimiter may be inside a number.
}
question-number-or-cells = what separates the cells? `{ $found }` on line { $line } is one number with a decimal comma, or several cells separated by { $delimiter_code ->
    [comma] commas
    [blanks] blanks
   *[other] { $delimiter }
}.
question-several-delimiters = what separates the cells? Several delimiters make cells of numbers of `{ $found }` on line { $line }: { $delimiters }
question-unit-contradicted = which unit is the force in? { $column } says { $logged }, the recipe { $answered }.
question-push-may-be-negative = is a push logged as a negative force? The greatest force is { $max_n } N, the smallest { $min_n } N.
question-several-runs = which of the { $runs } runs? { $lines_count ->
    [one] The second begins on line { $lines }.
   *[other] The others begin on lines { $lines }{ $more ->
        [0] .
       *[other] , and { $more } more.
    }
}
question-several-logs = which of the { $files_count } logs in the archive? { $files }{ $more ->
    [0] .
   *[other] , and { $more } more.
}
question-other-heads = which table? Other headings begin another one on line { $line }: `{ $found }`
