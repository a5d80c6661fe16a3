// Package measure reads and prints lengths as people write them, and prints masses.
//
// Inside the program every length is in millimetres. One inch is 25.4 mm exactly.
package measure

import (
	"math/big"
	"slices"
	"strings"
)

// A Unit is a unit of length that a plan can be written in.
type Unit string

// The units of a plan.
const (
	Millimetre Unit = "mm"
	Centimetre Unit = "cm"
	Metre      Unit = "m"
	Inch       Unit = "in"
	Foot       Unit = "ft"
)

// Units returns every unit a plan can be written in, the smallest first, metric before imperial.
func Units() []Unit { return []Unit{Millimetre, Centimetre, Metre, Inch, Foot} }

// Imperial reports whether u is the inch or the foot.
func (u Unit) Imperial() bool { return u == Inch || u == Foot }

// tenths returns the size of u in tenths of a millimetre, which is whole for every unit.
func (u Unit) tenths() int64 {
	switch u {
	case Centimetre:
		return 100
	case Metre:
		return 10_000
	case Inch:
		return 254
	case Foot:
		return 12 * 254
	}
	return 10
}

// millimetres returns the exact value in mm of n times u.
func (u Unit) millimetres(n *big.Rat) *big.Rat {
	return new(big.Rat).Mul(n, big.NewRat(u.tenths(), 10))
}

// An Error is a length or a unit that cannot be read.
type Error struct {
	Wrong string // what was found
	Fix   string // what to write instead
}

// Error returns what was found and what to write instead, on one line.
func (e *Error) Error() string { return e.Wrong + "; " + e.Fix }

// ParseUnit returns the unit that text names, as a symbol or as a word, in capitals or not. Its
// error is an *Error.
func ParseUnit(text string) (Unit, error) {
	if u, ok := named(strings.TrimSpace(text)); ok {
		return u, nil
	}
	return "", &Error{Wrong: quote(text) + " is not a unit of length", Fix: "write mm, cm, m, in or ft"}
}

// Names returns what u is called: its symbol, then the words for it.
func (u Unit) Names() []string {
	switch u {
	case Millimetre:
		return []string{"mm", "millimetre", "millimetres", "millimeter", "millimeters"}
	case Centimetre:
		return []string{"cm", "centimetre", "centimetres", "centimeter", "centimeters"}
	case Metre:
		return []string{"m", "metre", "metres", "meter", "meters"}
	case Inch:
		return []string{"in", "inch", "inches"}
	case Foot:
		return []string{"ft", "foot", "feet"}
	}
	return nil
}

// named returns the unit called name.
func named(name string) (Unit, bool) {
	for _, u := range Units() {
		if slices.Contains(u.Names(), strings.ToLower(name)) {
			return u, true
		}
	}
	return "", false
}
