# A sealed record checked again.

state-same = same numbers
state-not-sealed = not sealed
state-cannot-be-checked = cannot be checked
state-gate-file-changed = gate file changed
state-numbers-differ = numbers differ
state-altered = altered
state-failed = failed

log-change-altered = altered: { $file }: { $same_samples ->
    [true] same samples, written differently
   *[other] other samples than those that were sealed
}
log-change-not-placed = cannot be checked: { $file }: this version assigns it no test point
log-change-unreadable = cannot be checked: { $file }: { $error }

file-change-altered = altered: { $file } differs from its digest in report.sha256: the report is incomplete, or was changed since
file-change-gone = cannot be checked: { $file }: { $error }
file-change-no-list = cannot be checked: { $file } is no list of digests
file-change-not-listed = altered: report.sha256 does not list { $file }: the report beside it is from another run
