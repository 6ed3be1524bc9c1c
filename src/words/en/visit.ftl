# relent, English

told-odd-one = { $test_point }: { $measure }: { $remark }
told-not-assessed = { $test_point }: tested and not assessed: { $no_limit }

not-measured-asks = the log leaves a question open: { $questions }
not-measured-refused = the log could not be read: { $error }
