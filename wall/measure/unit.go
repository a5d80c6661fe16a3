// Package measure reads and prints lengths as people write them.
package measure

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
