package quantity

import "strconv"

// Days is so many days in words: "1 day", "2.5 days".
func Days(v float64) string {
	if v == 1 {
		return "1 day"
	}
	return strconv.FormatFloat(v, 'f', -1, 64) + " days"
}
