# Checks before the gate is driven, the pull by hand, papers.

check-state-in-order = in order
check-state-not-in-order = not in order
check-state-not-checked = not checked
check-state-not-applicable = not applicable
