# relent, English

told-odd-one = { $test_point }: { $measure }: { $remark }
told-not-assessed = { $test_point }: tested and not assessed: { $no_limit }
