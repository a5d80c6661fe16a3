package materials

import (
	"fmt"
	"regexp"
	"strings"

	"wallshoal/export/decimal"
)

// A Base is the unit that amounts of one sort are reckoned in.
type Base string

// What amounts are measured in.
const (
	Gram       Base = "g"
	Millilitre Base = "ml"
	Millimetre Base = "mm" // of string, wire, tape
	Count      Base = ""   // of pins, magnets, sheets
)

// name says what the base measures.
func (b Base) name() string {
	if b == Count {
		return "counted"
	}
	return string(b)
}

// in says in which unit amounts of the base are.
func (b Base) in() string {
	if b == Count {
		return "by count"
	}
	return "in " + string(b)
}

// An Amount is so much of something, exactly.
type Amount struct {
	Value decimal.Number
	Base  Base
}

// units are the units that people write, with how many of the base one is: a pound is 453.59237 g
// exactly, an ounce a sixteenth of it, a foot 304.8 mm.
var units = map[string]Amount{
	"g": {decimal.Of(1), Gram}, "kg": {decimal.Of(1000), Gram},
	"oz": {decimal.Ratio(45_359_237, 1_600_000), Gram}, "lb": {decimal.Ratio(45_359_237, 100_000), Gram},
	"ml": {decimal.Of(1), Millilitre}, "l": {decimal.Of(1000), Millilitre},
	"mm": {decimal.Of(1), Millimetre}, "cm": {decimal.Of(10), Millimetre}, "m": {decimal.Of(1000), Millimetre},
	"in": {decimal.Ratio(127, 5), Millimetre}, "ft": {decimal.Ratio(1524, 5), Millimetre},
	"": {decimal.Of(1), Count},
}

var amount = regexp.MustCompile(`^(-?[\d.]+)\s*([a-z]*)$`)

// ParseAmount reads a number with its unit, like 35 g, 0.5 l or 12 m, or alone where things are counted.
func ParseAmount(text string) (Amount, error) {
	parts := amount.FindStringSubmatch(strings.ToLower(strings.TrimSpace(text)))
	if parts == nil {
		return Amount{}, fmt.Errorf("%.40q is not an amount", text)
	}
	n, err := decimal.Parse(parts[1])
	unit, known := units[parts[2]]
	if err != nil || !known {
		return Amount{}, fmt.Errorf("%.40q is not an amount", text)
	}
	return Amount{n.Mul(unit.Value), unit.Base}, nil
}

// String returns the amount in its base, or in a thousand of it, to three decimals.
func (a Amount) String() string {
	large := map[Base]string{Gram: "kg", Millilitre: "l", Millimetre: "m"}[a.Base]
	if large != "" && a.Value.Cmp(decimal.Of(1000)) >= 0 {
		return a.Value.Div(decimal.Of(1000)).Round(3).String() + " " + large
	}
	return strings.TrimSpace(a.Value.Round(3).String() + " " + string(a.Base))
}

// RoundedUp returns the amount rounded up to a whole unit of its base.
func (a Amount) RoundedUp() Amount { return a.with(a.Value.Ceil()) }

func (a Amount) with(v decimal.Number) Amount { return Amount{v, a.Base} }
