// Package decimal reckons exactly with the decimal numbers that people write: prices, parts of a
// recipe, amounts. Nothing is rounded but where Round is asked for.
package decimal

import (
	"fmt"
	"math/big"
	"regexp"
	"strings"
)

// A Number is an exact rational number; its zero value is 0. It does not change.
type Number struct{ r *big.Rat }

// Digits that a number may be written with.
const (
	MaxWhole    = 12
	MaxFraction = 6
)

var written = regexp.MustCompile(`^-?\d{1,12}(\.\d{1,6})?$`)

// Parse reads a number in full, like 12.50: at most 12 digits before the point and 6 after it.
func Parse(text string) (Number, error) {
	text = strings.Replace(strings.TrimSpace(text), "−", "-", 1)
	if !written.MatchString(text) {
		return Number{}, fmt.Errorf("%.40q is not a number of at most %d digits before the point and %d after it", text, MaxWhole, MaxFraction)
	}
	r, _ := new(big.Rat).SetString(text)
	return Number{r}, nil
}

// Of returns a whole number.
func Of(n int) Number { return Number{new(big.Rat).SetInt64(int64(n))} }

// Ratio returns a/b; b is not 0.
func Ratio(a, b int64) Number { return Number{big.NewRat(a, b)} }

func (a Number) rat() *big.Rat {
	if a.r == nil {
		return new(big.Rat)
	}
	return a.r
}

// Add returns a + b.
func (a Number) Add(b Number) Number { return Number{new(big.Rat).Add(a.rat(), b.rat())} }

// Sub returns a - b.
func (a Number) Sub(b Number) Number { return Number{new(big.Rat).Sub(a.rat(), b.rat())} }

// Mul returns a × b.
func (a Number) Mul(b Number) Number { return Number{new(big.Rat).Mul(a.rat(), b.rat())} }

// Div returns a / b; b is not 0.
func (a Number) Div(b Number) Number { return Number{new(big.Rat).Quo(a.rat(), b.rat())} }

// Cmp returns -1, 0 or 1 where a is less than, equal to or greater than b.
func (a Number) Cmp(b Number) int { return a.rat().Cmp(b.rat()) }

// Sign returns -1, 0 or 1 where a is below, at or above 0.
func (a Number) Sign() int { return a.rat().Sign() }

// Max returns the greater of two numbers.
func Max(a, b Number) Number {
	if a.Cmp(b) < 0 {
		return b
	}
	return a
}

// Abs returns a without its sign.
func (a Number) Abs() Number { return Number{new(big.Rat).Abs(a.rat())} }

// Ceil returns the least whole number that is not below a.
func (a Number) Ceil() Number {
	r := a.rat()
	// Div rounds towards minus infinity where the divisor is above 0, as a denominator is.
	q := new(big.Int).Div(new(big.Int).Neg(r.Num()), r.Denom())
	return Number{new(big.Rat).SetInt(q.Neg(q))}
}

// Int returns a whole number as an int, cut off towards 0 where it is not whole.
func (a Number) Int() int {
	r := a.rat()
	return int(new(big.Int).Quo(r.Num(), r.Denom()).Int64())
}

// Round returns a to so many decimals, halves away from 0.
func (a Number) Round(digits int) Number {
	r, _ := new(big.Rat).SetString(a.Text(digits))
	return Number{r}
}

// Text returns a with so many decimals, halves rounded away from 0.
func (a Number) Text(digits int) string {
	text := a.rat().FloatString(digits) // rounds halves away from 0
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return text
}

// String returns a with as many decimals as it needs, six at most.
func (a Number) String() string {
	text := a.Text(MaxFraction)
	return strings.TrimRight(strings.TrimRight(text, "0"), ".")
}
