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
// inches only: 6 1/2". A nought is written where feet and a fraction have no whole inch between
// them: 8'-0 1/4". Halves round away from nothing. A length that is not finite is a question
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
		return feetAndInches(mm, 16)
	case Centimetre:
		return decimals(mm, 10, 1)
	case Metre:
		return decimals(mm, 1000, 3)
	}
	return decimals(mm, 1, 0)
}

// Precise returns the length mm to 0.01 mm with its unit and without needless zeros, for messages
// where a rounded figure could mislead. Feet and inches are given in sixty-fourths where they are a
// whole number of them, as drill bits are, in lowest terms; others to 1/16 in, but below an inch as
// a decimal, to 0.001 in.
func Precise(mm float64, u Unit) string {
	if math.IsNaN(mm) || math.IsInf(mm, 0) {
		return unknowable
	}
	switch u {
	case Inch, Foot:
		const fine = 25.4 / 64
		switch {
		case math.Abs(mm-math.Round(mm/fine)*fine) < 0.005:
			return feetAndInches(mm, 64)
		case math.Abs(mm) < 25.4:
			return trimmed(mm/25.4, 3) + `"`
		}
		return feetAndInches(mm, 16)
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

// feetAndInches returns mm to the nearest of the parts of an inch, a power of two.
func feetAndInches(mm float64, parts int) string {
	n := math.Round(math.Abs(mm) / (25.4 / float64(parts)))
	sign := ""
	if mm < 0 && n > 0 {
		sign = "-"
	}
	foot := float64(12 * parts)
	feet := math.Floor(n / foot)
	inches := int(n - feet*foot)
	if feet == 0 {
		return sign + inchText(inches, parts, false)
	}
	return sign + strconv.FormatFloat(feet, 'f', 0, 64) + "'-" + inchText(inches, parts, true)
}

// inchText returns n of the parts of an inch, below a foot, in lowest terms. After feet a nought
// stands before a bare fraction, so that nobody reads it as part of a foot.
func inchText(n, parts int, afterFeet bool) string {
	whole, top, bottom := n/parts, n%parts, parts
	for top > 0 && top%2 == 0 {
		top, bottom = top/2, bottom/2
	}
	fraction := strconv.Itoa(top) + "/" + strconv.Itoa(bottom)
	switch {
	case top == 0:
		return strconv.Itoa(whole) + `"`
	case whole == 0 && !afterFeet:
		return fraction + `"`
	}
	return strconv.Itoa(whole) + " " + fraction + `"`
}
