package yamlfile

import (
	"math"
	"strconv"
	"strings"
)

// Share returns the value as a share from low to high, written as a number, 0.2, or in per cent,
// 20 %. The noun is what it is, e.g. "a share of strays".
func (v Value) Share(noun string, low, high float64) (float64, bool) {
	text, ok := v.raw("a share, like 0.2 or 20 %")
	if !ok {
		return 0, false
	}
	fix := "give a number from " + plain(low) + " to " + plain(high) + ", or per cent, like 20 %"
	text = strings.TrimSpace(text)
	digits, percent := strings.CutSuffix(text, "%")
	digits = strings.TrimSpace(digits)
	if len(digits) > MaxNumber || !decimal.MatchString(digits) {
		v.Fault(Quote(text)+" is not "+noun, fix)
		return 0, false
	}
	n, err := strconv.ParseFloat(digits, 64)
	if percent {
		n /= 100
	}
	if err != nil || !(low <= n && n <= high) {
		if !percent && n > 1 && n <= math.Round(100*high) {
			fix = "write " + digits + " % if it is meant per cent, or a number from " + plain(low) + " to " + plain(high)
		}
		v.Fault(text+" is not "+noun, fix)
		return 0, false
	}
	return n, true
}
