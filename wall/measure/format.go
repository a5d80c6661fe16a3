package measure

import (
	"math"
	"strconv"
	"strings"
)

// Format returns the length mm as sheets show it, with its unit.
//
// Metric lengths are given to the millimetre: 1450 mm, 145.0 cm, 1.450 m. Inches and feet are
// given to 1/16 in, in lowest terms, as feet and inches: 7'-6 1/2", 7'-0", and below a foot as
// inches only: 6 1/2". Halves round away from nothing. A length that is not finite is a question
// mark.
func Format(mm float64, u Unit) string {
	figure := Figure(mm, u)
	if u.Imperial() || figure == unknowable {
		return figure
	}
	return figure + " " + string(orMillimetre(u))
}

// unknowable stands for a length that is NaN or infinite.
const unknowable = "?"

// Figure returns the length mm as Format does, without the name of a metric unit, for a drawing
// that states its unit once. Feet and inches keep their marks.
func Figure(mm float64, u Unit) string {
	if math.IsNaN(mm) || math.IsInf(mm, 0) {
		return unknowable
	}
	switch u {
	case Inch, Foot:
		return feetAndInches(mm)
	case Centimetre:
		return decimals(mm, 10, 1)
	case Metre:
		return decimals(mm, 1000, 3)
	}
	return decimals(mm, 1, 0)
}

// Precise returns the length mm to 0.01 mm with its unit and without needless zeros, for messages
// where a rounded figure could mislead. Inches and feet that are no whole number of sixteenths are
// given as decimal inches, to 0.001 in.
func Precise(mm float64, u Unit) string {
	if math.IsNaN(mm) || math.IsInf(mm, 0) {
		return unknowable
	}
	switch u {
	case Inch, Foot:
		if math.Abs(mm-math.Round(mm/sixteenth)*sixteenth) < 0.005 {
			return feetAndInches(mm)
		}
		return trimmed(mm/25.4, 3) + `"`
	case Centimetre:
		return trimmed(mm/10, 3) + " cm"
	case Metre:
		return trimmed(mm/1000, 5) + " m"
	}
	return trimmed(mm, 2) + " mm"
}

func orMillimetre(u Unit) Unit {
	if u == "" {
		return Millimetre
	}
	return u
}

// decimals returns mm, rounded to whole millimetres, in a unit of size mm with so many decimals.
func decimals(mm, size float64, places int) string {
	whole := math.Round(mm)
	if whole == 0 {
		whole = 0 // no minus before nothing
	}
	return strconv.FormatFloat(whole/size, 'f', places, 64)
}

func trimmed(v float64, places int) string {
	text := strconv.FormatFloat(v, 'f', places, 64)
	text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	if text == "-0" || text == "" {
		return "0"
	}
	return text
}

const sixteenth = 25.4 / 16 // mm

// feetAndInches returns mm to the nearest sixteenth of an inch.
func feetAndInches(mm float64) string {
	n := math.Round(math.Abs(mm) / sixteenth)
	sign := ""
	if mm < 0 && n > 0 {
		sign = "-"
	}
	const foot = 12 * 16
	feet := math.Floor(n / foot)
	inches := inchText(int(n - feet*foot))
	if feet == 0 {
		return sign + inches
	}
	return sign + strconv.FormatFloat(feet, 'f', 0, 64) + "'-" + inches
}

// inchText returns n sixteenths of an inch, below a foot, in lowest terms.
func inchText(n int) string {
	whole, top, bottom := n/16, n%16, 16
	for top > 0 && top%2 == 0 {
		top, bottom = top/2, bottom/2
	}
	fraction := strconv.Itoa(top) + "/" + strconv.Itoa(bottom)
	switch {
	case top == 0:
		return strconv.Itoa(whole) + `"`
	case whole == 0:
		return fraction + `"`
	}
	return strconv.Itoa(whole) + " " + fraction + `"`
}
