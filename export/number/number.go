// Package number writes numbers as people read them on pages: digits in groups of three, and a count with
// its noun. Files for programs, such as CSV and JSON, keep plain digits.
package number

import (
	"strconv"
	"strings"
)

// Space stands between groups of digits: a no-break space, so that no line ends within a number. ISO
// 80000-1 (from memory) asks for a small space there, and for neither point nor comma, since either is
// the decimal sign somewhere; the fonts of our pages have no smaller one.
const Space = "\u00a0"

// Group returns a number with the digits before its point in groups of three from the right. Text is an
// optional minus, digits, and nothing or a point and more digits; those after the point stay together, as
// in sums of money.
func Group(text string) string {
	whole, rest := text, ""
	if at := strings.IndexByte(text, '.'); at >= 0 {
		whole, rest = text[:at], text[at:]
	}
	sign := ""
	if strings.HasPrefix(whole, "-") {
		sign, whole = "-", whole[1:]
	}
	var out strings.Builder
	for i, digit := range []byte(whole) {
		if i > 0 && (len(whole)-i)%3 == 0 {
			out.WriteString(Space)
		}
		out.WriteByte(digit)
	}
	return sign + out.String() + rest
}

// Whole returns a whole number in groups of three digits.
func Whole(n int) string { return Group(strconv.Itoa(n)) }

// Count returns so many of what one and many name: 1 piece, 0 pieces, 1 200 pieces.
func Count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return Whole(n) + " " + many
}

// Of is Count of a noun whose plural has an s.
func Of(n int, noun string) string { return Count(n, noun, noun+"s") }

// Runs lists whole numbers, which are given in ascending order: 3, 7 to 9. Two that follow one another stand by themselves.
func Runs(all []int) string {
	var parts []string
	for i := 0; i < len(all); {
		end := i
		for end+1 < len(all) && all[end+1] == all[end]+1 {
			end++
		}
		if end > i+1 {
			parts = append(parts, strconv.Itoa(all[i])+" to "+strconv.Itoa(all[end]))
		} else {
			end = i
			parts = append(parts, strconv.Itoa(all[i]))
		}
		i = end + 1
	}
	return strings.Join(parts, ", ")
}
