# A gate over its visits: what was changed, what moves, what is not known.

change-event = { $event }{ $words ->
    [none] {""}
   *[other] { " " }({ $words })
}
change-differs = { $difference }

history-remark-not-known-whether-changed = Between { $from } and { $to }: { $difference }. Not known whether it changed; taken as unchanged.
history-remark-several-gauges = The visits were made with { $gauges_count } gauges ({ $gauges }): part of any movement may come from the gauges.
history-remark-gauge-not-named = { $without } of { $visits } visits do not name the serial number of the gauge: not known whether it was the same gauge.
history-remark-copied-log = { $log } of { $folder } is a copy of { $of_log } of { $of_folder }: no new measurement, and in no slope.
history-remark-without-day = { $folder }: left out, because its gate file does not give the day of the visit.
history-remark-not-opened = { $folder }: could not be opened, so it is not known whether it is a visit to this gate: { $complaint }.

no-trend-no-reading = no complete reading
no-trend-too-few = { $readings ->
    [one] 1 complete reading
   *[other] { $readings } complete readings
}, at least { $least } needed
no-trend-not-fitted = { $no_answer }

history-tab = { $gate } · history
history-title = History of { $gate }{ $place ->
    [none] {""}
   *[other] , { $place }
}
history-sentence = { $visits ->
    [one] 1 visit, { $first }
   *[other] { $visits } visits, { $first } to { $last }
}. { $rising ->
    [0] No value is shown to rise.
    [one] One value is shown to rise.
   *[other] { $rising } values are shown to rise.
}
history-standing = Past visits show how hard the leaf hit a gauge on their days. They do not prove that the gate is free of danger today; local codes and licensed practice come first.
history-moves = What moves
history-nothing-moves = Since the last change of the gate, no value has three complete readings that show a movement. That does not show that nothing moves.
history-visits = Visits and changes
history-points = Point by point
history-about = How to read this page
history-column-day = day
history-column-kind = reason
history-column-changes = changes before it
history-column-temperature = temperature, °C
history-column-gauge = gauge
history-column-firmware = firmware
history-column-state = state
history-column-folder = folder
history-not-named = not named
history-no-changes = The gate files give no change of gate, drive, edge or settings.
history-changes = Changes
history-no-visit-since = (no visit since)
history-no-point = no test point
history-key = Dot: the value of a visit; line: ± its expanded uncertainty. Open dot with an arrow: a lower bound, because the reading of that day is limited; it enters no slope. Open dot without an arrow: a copy of an earlier log. Dashed: a slope that is shown; dotted: one that is not. Grey: over the limit. Letters: changes; no slope crosses one.
history-method = A reading is what the limit applies to: the mean or the greatest of the hits of a visit. A slope is the least-squares line through the complete readings between two changes, with time in years. Its 95 % interval follows Student's distribution with two degrees of freedom fewer than visits, as if the visits scattered about the line independently. Each interval answers one question: of 100 values that do not move, about five are shown to move. Temperature, wind, supply and a different gauge can move a value as much as wear.

history-plot = { $measure } over the visits
history-limit = limit { $limit } { $unit }
history-axis-day = day
history-axis-temperature = at
history-degrees = { $temperature_c } °C
history-reading = { $day }: { $value } { $unit }
history-reading-at-least = { $day }: at least { $value } { $unit }
history-reading-copied = { $day }: copied, { $value } { $unit }
history-value = { $value }
history-value-at-least = ≥ { $value }
history-value-copied = copied { $value }
history-line = { $measure }, limit { $limit } { $unit }: { $values }

history-slope = { $slope } { $unit } a year (95 % interval { $lower } to { $upper } { $unit } a year, { $readings } visits, { $first } to { $last })
history-not-shown = { history-slope }: no movement shown. That does not show that there is none.
history-falls = { history-slope }: falling.
history-at-the-limit = { history-slope }: rising, and the line is already at { $limit } { $limit_unit }.
history-would-reach = { history-slope }: rising. Continued, the line would reach { $limit } { $limit_unit } on { $on } (95 %: between { $earliest } and { $latest ->
    [none] an unknown day
   *[other] { $latest }
}). Past visits do not predict the next: a worn part can fail at once, a repair changes everything. The day is a reason to look earlier, never one to wait.
history-far-away = { history-slope }: rising, too slowly to name a day on which it would reach { $limit } { $limit_unit }.
history-changed-since = { history-slope }. The gate was changed since: this line does not continue.
history-not-shown-and-changed-since = { history-slope }: no movement shown, and the gate was changed since.
history-no-slope = No slope: { $why }.
history-no-slope-between = { $first } to { $last }: no slope: { $why }.
