package measure

import (
	"math/big"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// longest is how many bytes a length may take; nobody needs more, and it keeps the exact
// arithmetic small.
const longest = 64

// Parse returns the length that text states, in mm, rounded once to the nearest float64.
//
// A bare number is in the unit bare. A unit may follow it: 180mm, 2.4 m, 3/4 in, 1-1/2", 7'. Feet
// may be followed by inches: 7'-6 1/2", 7' 6.5", 5 ft 3 in. Fractions go with inches and feet, as
// 1/2 or as one sign, ½. The marks may be straight or curly quotation marks or primes. A sign may
// stand in front and holds for the whole length. The error is an *Error.
func Parse(text string, bare Unit) (mm float64, err error) {
	if err := refuse(text); err != nil {
		return 0, err
	}
	s := scanner{text: text, rest: plainSigns(strings.TrimSpace(text))}
	negative := s.sign()
	sum, err := s.length(bare)
	if err != nil {
		return 0, err
	}
	mm, _ = sum.Float64()
	if negative {
		mm = -mm
	}
	return mm, nil
}

// refuse returns what is wrong with text where it is something that people do write, but that is
// no length.
func refuse(text string) error {
	low := strings.ToLower(strings.TrimSpace(text))
	switch {
	case low == "":
		return &Error{Wrong: "there is no length", Fix: example}
	case len(text) > longest || !utf8.ValidString(text):
		return &Error{Wrong: quote(text) + " is not a length", Fix: example}
	case strings.Contains(low, ","):
		return &Error{Wrong: quote(text) + " has a comma",
			Fix: "write a point before decimals and nothing between thousands, like 1234.5"}
	case strings.HasPrefix(strings.TrimLeft(low, "+-."), "inf") || strings.Contains(low, "nan"):
		return &Error{Wrong: quote(text) + " is not a length that can be measured", Fix: example}
	case exponent(low):
		return &Error{Wrong: quote(text) + " is written with an exponent", Fix: "write the number in full, like 1500"}
	}
	return nil
}

const example = "write a number with or without a unit, like 2.4 m, 180 mm or 7'-6 1/2\""

// exponent reports whether low holds a number such as 1e3 or 2.5e-4.
func exponent(low string) bool {
	i := strings.IndexByte(low, 'e')
	if i < 1 || i+1 == len(low) {
		return false
	}
	after := strings.TrimLeft(low[i+1:], "+-")
	return isDigitOrPoint(low[i-1]) && after != "" && isDigit(after[0])
}

// plainSigns returns text with the many signs that mean the same written one way: ' for feet, "
// for inches, - for minus and for the hyphen, a common fraction for a one-sign fraction.
func plainSigns(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case strings.ContainsRune("′’‘´`", r):
			b.WriteByte('\'')
		case strings.ContainsRune("″”“", r):
			b.WriteByte('"')
		case strings.ContainsRune("−‐‑–", r):
			b.WriteByte('-')
		case r == '⁄' || r == '∕':
			b.WriteByte('/')
		case vulgar(r) != "":
			b.WriteString(" " + vulgar(r))
		case unicode.IsSpace(r):
			b.WriteByte(' ')
		default:
			b.WriteRune(r)
		}
	}
	return strings.TrimSpace(strings.ReplaceAll(b.String(), "''", `"`))
}

// vulgar returns the common fraction that the one sign r stands for, or "".
func vulgar(r rune) string {
	switch r {
	case '½':
		return "1/2"
	case '⅓':
		return "1/3"
	case '⅔':
		return "2/3"
	case '¼':
		return "1/4"
	case '¾':
		return "3/4"
	case '⅕':
		return "1/5"
	case '⅖':
		return "2/5"
	case '⅗':
		return "3/5"
	case '⅘':
		return "4/5"
	case '⅙':
		return "1/6"
	case '⅚':
		return "5/6"
	case '⅛':
		return "1/8"
	case '⅜':
		return "3/8"
	case '⅝':
		return "5/8"
	case '⅞':
		return "7/8"
	}
	return ""
}

// A scanner reads a length from left to right.
type scanner struct {
	text string // as it was written, for messages
	rest string // what is still to be read
}

// length reads the whole of the text and returns its value in mm.
func (s *scanner) length(bare Unit) (*big.Rat, error) {
	n, fraction, err := s.number()
	if err != nil {
		return nil, err
	}
	unit, mark, err := s.unit(bare)
	if err != nil {
		return nil, err
	}
	if fraction && !unit.Imperial() {
		return nil, &Error{Wrong: quote(s.text) + " is a fraction of a " + string(unit),
			Fix: "write decimals, like 0.75 " + string(unit) + ", or add in or ft"}
	}
	sum := unit.millimetres(n)
	if s.rest == "" {
		return sum, nil
	}
	if unit != Foot || mark == "" {
		return nil, s.trailing()
	}
	inches, err := s.inches(n, mark)
	if err != nil {
		return nil, err
	}
	return sum.Add(sum, Inch.millimetres(inches)), nil
}

// inches reads what follows the feet, which were written with the given mark or word.
func (s *scanner) inches(feet *big.Rat, mark string) (*big.Rat, error) {
	s.rest = strings.TrimPrefix(s.rest, "-")
	s.space()
	n, _, err := s.number()
	if err != nil {
		return nil, s.trailing()
	}
	unit, word, err := s.unit(Inch)
	switch {
	case err != nil:
		return nil, err
	case s.rest != "" || unit != Inch || (word == "" && mark != "'"):
		return nil, s.trailing()
	case !feet.IsInt():
		return nil, &Error{Wrong: quote(s.text) + " has part of a foot and inches", Fix: "write whole feet before inches, like 7'-6 1/2\""}
	case n.Cmp(big.NewRat(12, 1)) >= 0:
		return nil, &Error{Wrong: quote(s.text) + " has 12 inches or more after the feet", Fix: "write the feet and what is left under 12 in, like 7'-6 1/2\""}
	}
	return n, nil
}

func (s *scanner) trailing() error {
	return &Error{Wrong: quote(s.text) + " is not a length", Fix: example}
}

func (s *scanner) space() { s.rest = strings.TrimLeft(s.rest, " ") }

// sign reads a sign and reports whether it was a minus.
func (s *scanner) sign() (negative bool) {
	if s.rest == "" || (s.rest[0] != '-' && s.rest[0] != '+') {
		return false
	}
	negative = s.rest[0] == '-'
	s.rest = s.rest[1:]
	s.space()
	return negative
}

// number reads a decimal number, a fraction, or a whole number and a fraction, and reports
// whether there was a fraction.
func (s *scanner) number() (n *big.Rat, fraction bool, err error) {
	first := s.digits()
	if first == "" {
		return nil, false, s.trailing()
	}
	if strings.HasPrefix(s.rest, "/") {
		n, err = s.over(first)
		return n, true, err
	}
	n, ok := new(big.Rat).SetString(first)
	if !ok {
		return nil, false, s.trailing()
	}
	more := scanner{text: s.text, rest: s.rest}
	more.rest = strings.TrimLeft(strings.TrimPrefix(strings.TrimLeft(more.rest, " "), "-"), " ")
	top := more.digits()
	if top == "" || !strings.HasPrefix(more.rest, "/") || !n.IsInt() {
		s.space()
		return n, false, nil
	}
	part, err := more.over(top)
	if err != nil {
		return nil, true, err
	}
	if part.Cmp(big.NewRat(1, 1)) >= 0 {
		return nil, true, &Error{Wrong: quote(s.text) + " has a fraction of 1 or more after a whole number", Fix: "write it like 6 1/2"}
	}
	s.rest = more.rest
	return n.Add(n, part), true, nil
}

// over reads the bottom half of the fraction whose top half is known.
func (s *scanner) over(top string) (*big.Rat, error) {
	s.rest = s.rest[1:]
	bottom := s.digits()
	n, ok := new(big.Int).SetString(top, 10)
	d, ok2 := new(big.Int).SetString(bottom, 10)
	if !ok || !ok2 || d.Sign() == 0 {
		return nil, &Error{Wrong: quote(s.text) + " holds something that is not a fraction", Fix: "write whole numbers above and below the stroke, like 3/4"}
	}
	s.space()
	return new(big.Rat).SetFrac(n, d), nil
}

// digits reads the digits at hand, with at most one decimal point among them.
func (s *scanner) digits() string {
	end, points := 0, 0
	for end < len(s.rest) && isDigitOrPoint(s.rest[end]) {
		if s.rest[end] == '.' {
			points++
		}
		end++
	}
	found := s.rest[:end]
	if points > 1 || found == "." {
		return ""
	}
	s.rest = s.rest[end:]
	return found
}

func isDigit(c byte) bool        { return '0' <= c && c <= '9' }
func isDigitOrPoint(c byte) bool { return isDigit(c) || c == '.' }

// unit reads a unit and the spaces after it, and returns bare and no word where there is none.
func (s *scanner) unit(bare Unit) (u Unit, word string, err error) {
	switch {
	case s.rest == "":
		return bare, "", nil
	case s.rest[0] == '\'':
		u, word = Foot, "'"
	case s.rest[0] == '"':
		u, word = Inch, `"`
	default:
		word = s.rest[:len(s.rest)-len(strings.TrimLeftFunc(s.rest, unicode.IsLetter))]
		var ok bool
		if u, ok = named(word); !ok {
			return "", "", s.unknown(word)
		}
	}
	s.rest = s.rest[len(word):]
	if strings.HasPrefix(s.rest, ".") && u.Imperial() {
		s.rest = s.rest[1:] // in. and ft.
	}
	s.space()
	return u, word, nil
}

func (s *scanner) unknown(word string) error {
	if word == "" {
		return s.trailing()
	}
	return &Error{Wrong: quote(s.text) + " has the unit " + quote(word) + ", which is not known here", Fix: "write mm, cm, m, in or ft"}
}

// quote returns text in quotation marks, shortened and with nothing that could upset a terminal.
func quote(text string) string {
	const most = 40
	if utf8.RuneCountInString(text) > most {
		text = string([]rune(text)[:most]) + "…"
	}
	if strings.ContainsRune(text, '"') && !strings.ContainsRune(text, '`') && strconv.CanBackquote(text) {
		return "`" + text + "`"
	}
	return strconv.Quote(text)
}
