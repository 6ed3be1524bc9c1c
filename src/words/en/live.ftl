# A visit in progress: the page beside the gate, the terminal, and one line an event.

slow-empty = is empty so far
slow-being-written = is still being written
slow-unreadable = cannot be read: { $error }
live-being-written = being written
live-coming = { $file }: { $state }

not-complete-points-unknown = it is not known which test points are required: { $no_plan }
not-complete-nothing-required = no test points are prescribed and no logs are listed, so it is not known which hits are required
not-complete-faults = the watch cannot read everything
not-complete-file-without-place = a file in the log folder has no test point
not-complete-being-written = a log is still being written

live-tab = { $gate } · test in progress
live-title = Force test of { $gate }, in progress
live-lost = Connection to the watch lost: no news since { $time }. The content below may be out of date.
live-without-scripts = Without scripts this page reloads every three seconds. If it stops reloading, do not trust it.
live-trouble = To correct
live-heading-next = Next
live-heading-complete = All hits recorded
live-heading-not-complete = Not complete
live-heading-last = Last hit
live-heading-points = Test points
live-heading-todo = To do
live-heading-remarks = Note
live-nothing-to-do = No hit left to make.
live-plot-caption = Heavy line: the last hit. Thin lines: the other hits at this point. Grey: over the peak limit.
live-spoken = { $last ->
    [none] {""}
   *[other] Last hit: { $last }.{" "}
}{ $next }

live-head = { $gate }{ $day ->
    [none] {""}
   *[other] , { $day }
}. { $standing }
live-standing = { $done } of { $required } required hits recorded{ $make ->
    [0] {""}
   *[other] , { $make } to make
}{ $again ->
    [0] {""}
   *[other] , { $again } to repeat
}.
live-standing-unplanned = { $hits ->
    [one] 1 hit
   *[other] { $hits } hits
}{ $why ->
    [none] .
   *[other] ; { $why }.
}

live-hit-at = { $place }, hit { $repeat }
live-hit-of = Hit { $repeat } of { $wanted }
live-hit-again = Repeat hit { $repeat }
live-save-under = Save as
live-save-as = save as { $file }
live-save-again = Save as { $file } and move the earlier log out of the log folder.
live-no-pattern = The gate file has no name pattern that fits this hit.
live-make = { $place }, hit { $repeat } of { $wanted }{ $file ->
    [none] {" "}(the gate file has no name pattern that fits this hit)
   *[other] : save as { $file }
}
live-again = { $place }, repeat hit { $repeat }: save as { $file } and move the earlier log out of the log folder
live-list-make = hit { $repeat }
live-list-again = repeat hit { $repeat }
live-list-again-because = repeat hit { $repeat } ({ $why })
live-next-make = Next: { $place }, hit { $repeat } of { $wanted }
live-next-again = Next: { $place }, repeat hit { $repeat }
live-last = Last: { $place } ({ $file })
live-next = { $standing } Next: { $what }
live-not-complete = { $standing } Not complete: { $what }
live-complete = All hits recorded. { $what }

live-over = over the limit: { $place }: { $values }
live-told-over = over the limit by itself: { $parts }
live-told-again = to repeat: { $parts }
live-by-itself = by itself: { $value }.
live-to-repeat = – to repeat:
live-value = { $measure } { $value } { $unit } (limit { $limit } { $unit })
live-value-either-way = { $measure } { $value } { $unit }, uncertain either way (limit { $limit } { $unit })
live-value-at-least = { $measure } ≥ { $value } { $unit } (limit { $limit } { $unit })
live-no-value = no { $measure }: { $why }
live-not-required = the plan requires no hit at this point: if the name of the log is wrong, correct it
live-point = { $place }: { $state }: { $measure } { $value } (limit { $limit } { $unit })
live-point-over = { $place }: ▲ { $state }: { $measure } { $value } (limit { $limit } { $unit })
live-point-open = { $place }: no longer decided

live-faults-gone = everything can be read again
live-changed = { $file }: changed; it is assessed again once it is written
live-no-longer-counts = { $file }: no longer counts
live-gone = { $file }: removed from the folder; its hit no longer counts

repeat-unread = { $not_measured }{ $not_measured_code ->
    [asks] {" "}(answer it in a recipe: `relent read { $log } --save-recipe FILE`, and name the file as [logs] recipe)
   *[other] {""}
}
repeat-limited = { $limitation }
