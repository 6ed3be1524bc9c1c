# relent, English
