# The overview of an archive of many gates.

gate-state-within = within the limits assessed
gate-state-undecided = undecided
gate-state-over = over the limit
gate-state-not-assessed = could not be assessed

archive-tab = Archive of force tests · { $tree }
archive-title = Archive of force tests: { $tree }
archive-sentence = { $gates } in { $folders }, as of { $day }: { $states }.
archive-standing = “Within the limits” means: within the limits assessed, on the day of the test. It does not prove that a gate is free of danger; local codes and licensed practice come first.
archive-digest = archive.json beside this page holds its digest.
archive-count = { $count } { $state }
archive-state = { $state }: { $count }
archive-name = { $gate ->
    [none] no name
   *[other] { $gate }
}{ $place ->
    [none] {""}
   *[other] , { $place }
}
archive-left-out = The first { $most } of { $all }{ $file ->
    [none] .
   *[other] ; { $file } holds all.
}

archive-gates = Gates as of their last visit
archive-no-reason = no reason known
archive-no-date = no date
archive-column-gate = gate
archive-column-visit = visit
archive-column-state = state
archive-column-share = greatest share of a limit, %
archive-column-over = over
archive-column-undecided = undecided
archive-column-missing = points missing
archive-column-reason = place and reason
archive-column-limit = limit
archive-column-point = test point
archive-column-over-on = over on
archive-share = { FIXED($percent, digits: 0) } % of the limit
archive-percent = { FIXED($percent, digits: 1) }

archive-offences = Over on more than one visit
archive-no-offences = No test point was over the same limit on more than one visit.
archive-offences-note = The same test point over the same limit on more than one day: any corrective action in between did not help.

archive-unresolved = Over once, and not fully assessed since
archive-none-unresolved = For every gate that was over a limit, that visit is the last, or a later visit was over or within the limits.
archive-unresolved-note = These visits were over a limit; later visits to the same gate are undecided or could not be assessed. It is not known whether the fault was corrected.

archive-overdue = Next visit overdue
archive-none-overdue = No gate with a date for its next visit is overdue.
archive-overdue-unknown = { $without } of { $gates } gates have no date for the next visit ([handover] next_due in the gate file): it is not known whether they are overdue.

archive-gauges = Gauges
archive-none-expired = No gauge with a serial number has an expired calibration, as far as the gate files state.
archive-expired-note = The gate files state no calibration of these gauges that is valid today. Whether a past test was covered is stated with its findings.
archive-gauge = valid until { $due }, used on { $visits ->
    [one] 1 visit
   *[other] { $visits } visits
}
archive-gauge-not-named = { $folders ->
    [one] 1 folder states no serial number of the gauge.
   *[other] { $folders } folders state no serial number of the gauge.
}

archive-visits = Earlier visits
archive-earlier = { $earlier } of the { $folders } folders are earlier visits to gates listed above. All folders: { $states }.

archive-about = How to read this page
archive-order = A gate is identified by its name and place as written in its gate file; its last visit is the one with the latest date. Within a state, the gate with the greatest value as a share of its limit comes first.
archive-one-profile = Every folder was assessed against { $profile }, whatever its gate file names.
archive-files = findings.csv holds every finding, gates.csv every folder, archive.json both with their digests.

# The summary on a terminal.
archive-counts = { $folders ->
    [one] 1 gate folder
   *[other] { $folders } gate folders
}: { $states }.
archive-runs = { $now } assessed now, { $kept } unchanged since an earlier run.
archive-farthest-over = Over the limit, greatest share first
archive-over-at = { $folder }: { $share ->
    [none] { $at }
   *[other] { FIXED($share, digits: 0) } % of { $at }
}
archive-offence = { $gate }: { $limit }, { $point }: { $visits }
archive-expired = Gauges without a valid calibration today
archive-expired-since = { $serial }: until { $due }
archive-more = … and { $count } more
archive-overview = Overview: { $file }
