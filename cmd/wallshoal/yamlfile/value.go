package yamlfile

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
	"gopkg.in/yaml.v3"

	"wallshoal/wall/measure"
)

// A Value is one value of a file, or the place where one could have stood. Its readers return
// false where nothing stands there, and where what stands there is wrong and a fault has been
// filed of it.
type Value struct {
	file         *File
	node         *yaml.Node // nil where the file gives none
	field        string
	line, column int
	misspelt     bool // missing, but another key looks like a slip for it and was complained of
}

// A Map is the keys and values of a part of a file.
type Map struct {
	Value
	values map[string]Value
	meant  map[string]bool // known keys that an unknown one was taken for
}

// Given reports whether the file gives the value, right or wrong.
func (v Value) Given() bool { return v.node != nil }

// Field returns the path of the value, e.g. "room.walls[0].length".
func (v Value) Field() string { return v.field }

// Line returns the line where the value or its key stands; where it is not given, that of the map
// that lacks it.
func (v Value) Line() int { return v.line }

// Fault files a fault of the value.
func (v Value) Fault(wrong, fix string) {
	if v.node != nil {
		v.file.bad[v.node] = true
	}
	v.file.add(v.line, v.column, v.field, wrong, fix)
}

// Need files a fault where the file does not give the value, with what to write, and returns it.
func (v Value) Need(fix string) Value {
	switch {
	case v.node != nil:
	case v.misspelt:
		v.file.Spoil(v.field)
	default:
		v.Fault("is missing", fix)
	}
	return v
}

// IsList reports whether the value is a list.
func (v Value) IsList() bool { return v.node != nil && v.node.Kind == yaml.SequenceNode }

// IsMap reports whether the value is a map.
func (v Value) IsMap() bool { return v.node != nil && v.node.Kind == yaml.MappingNode }

// usable reports whether the value is there and of the kind wanted. It complains where it is not.
func (v Value) usable(kind yaml.Kind, want string) bool {
	switch {
	case v.node == nil || v.file.bad[v.node]:
		return false
	case v.node.Tag == "!!null":
		v.Fault("is empty", "give it a value or remove the line; what follows a space and a # is not read")
		return false
	case kind == yaml.MappingNode && v.node.Kind == yaml.ScalarNode && unspaced.MatchString(v.node.Value):
		own, rest, _ := strings.Cut(v.node.Value, ":")
		v.Fault("has no space after the colon", spaced(own, rest))
		return false
	case v.node.Kind != kind:
		v.Fault("is "+kindName(v.node.Kind), "write "+want)
		return false
	}
	return true
}

func kindName(k yaml.Kind) string {
	switch k {
	case yaml.MappingNode:
		return "a map of keys"
	case yaml.SequenceNode:
		return "a list"
	}
	return "a single value"
}

// Map returns the value as a map, which may hold the known keys and no other. It complains of
// other keys, and of known ones without a value. Without known keys any will do.
func (v Value) Map(known ...string) (Map, bool) {
	if !v.usable(yaml.MappingNode, "keys and values on the lines below it") {
		return Map{Value: v}, false
	}
	m := Map{Value: v, values: make(map[string]Value, len(v.node.Content)/2), meant: map[string]bool{}}
	for i := 0; i+1 < len(v.node.Content); i += 2 {
		key, value := v.node.Content[i], v.node.Content[i+1]
		if v.file.bad[key] {
			continue
		}
		m.values[key.Value] = Value{file: v.file, node: value, field: join(v.field, key.Value), line: key.Line, column: key.Column}
	}
	m.Known(known...)
	return m, true
}

// Known complains of every key of m that is none of the known ones, and of known ones that are
// empty. Without known keys any will do.
func (m Map) Known(known ...string) {
	if m.node == nil || len(known) == 0 {
		return
	}
	isKnown := make(map[string]bool, len(known))
	for _, k := range known {
		isKnown[k] = true
	}
	for i := 0; i+1 < len(m.node.Content); i += 2 {
		v, ok := m.values[m.node.Content[i].Value]
		switch {
		case !ok:
		case isKnown[m.node.Content[i].Value]:
			if v.node.Kind == yaml.ScalarNode {
				v.usable(yaml.ScalarNode, "")
			}
		default:
			m.unknown(v, m.node.Content[i].Value, known)
		}
	}
}

// unknown complains that key is none of the known keys.
func (m Map) unknown(v Value, key string, known []string) {
	fix := "known here: " + strings.Join(known, ", ")
	if m.file.full() {
		fix = "" // it will not be told
	} else if own, rest, ok := strings.Cut(key, ":"); ok && slices.Contains(known, own) {
		fix = spaced(own, rest)
		m.meant[own] = true
	} else if near := Nearest(key, known); near != "" {
		fix = "did you mean " + near + "?"
		m.meant[near] = true
	}
	v.Fault("is not a known key", fix)
}

// Keys returns the keys of m in file order.
func (m Map) Keys() []string {
	var keys []string
	for i := 0; m.node != nil && i+1 < len(m.node.Content); i += 2 {
		if _, ok := m.values[m.node.Content[i].Value]; ok {
			keys = append(keys, m.node.Content[i].Value)
		}
	}
	return keys
}

// Get returns the value of key. Where m has none the value is not given, and a complaint of it
// points at m.
func (m Map) Get(key string) Value {
	if v, ok := m.values[key]; ok {
		return v
	}
	return Value{file: m.file, field: join(m.field, key), line: m.line, column: m.column, misspelt: m.meant[key]}
}

// List returns the items of a list of at most max, whatever they are. The fix says what to write
// where the value is no list.
func (v Value) List(max int, fix string) ([]Value, bool) {
	if !v.usable(yaml.SequenceNode, fix) {
		return nil, false
	}
	if n := len(v.node.Content); n > max {
		v.Fault(fmt.Sprintf("has %d items", n), fmt.Sprintf("give at most %d", max))
		return nil, false
	}
	items := make([]Value, len(v.node.Content))
	for i, n := range v.node.Content {
		items[i] = Value{file: v.file, node: n, field: v.field + "[" + strconv.Itoa(i) + "]", line: n.Line, column: n.Column}
	}
	return items, true
}

// raw returns the value as it was written.
func (v Value) raw(want string) (string, bool) {
	if !v.usable(yaml.ScalarNode, want) {
		return "", false
	}
	return v.node.Value, true
}

// Text returns the value as one line of visible text of at most max characters, composed (Unicode
// NFC) and without spaces at its ends.
func (v Value) Text(max int) (string, bool) {
	text, ok := v.raw("a single line of text")
	if !ok {
		return "", false
	}
	for _, r := range text {
		if Hidden(r) || r == utf8.RuneError {
			v.Fault(fmt.Sprintf("%s holds a hidden character (U+%04X)", Quote(text), r), "write one line of plain text")
			return "", false
		}
	}
	text = norm.NFC.String(strings.TrimSpace(text))
	switch n := utf8.RuneCountInString(text); {
	case n == 0:
		v.Fault("is empty", "give it a value or remove the line")
	case n > max:
		v.Fault(fmt.Sprintf("has %d characters", n), fmt.Sprintf("keep it within %d", max))
	default:
		return text, true
	}
	return "", false
}

// Data returns the value as text of at most max bytes that may run over several lines.
func (v Value) Data(max int) (string, bool) {
	text, ok := v.raw("text")
	if ok && len(text) > max {
		v.Fault(fmt.Sprintf("has %d bytes", len(text)), fmt.Sprintf("keep it within %d", max))
		return "", false
	}
	return text, ok
}

// Choice returns which of the choices the value names, in capitals or not. The noun is what is
// chosen, e.g. "a surface".
func (v Value) Choice(noun string, choices ...string) (string, bool) {
	return v.ChoiceMeant(noun, nil, choices...)
}

// ChoiceMeant is Choice, and knows which of the choices other words for them mean.
func (v Value) ChoiceMeant(noun string, meant map[string]string, choices ...string) (string, bool) {
	text, ok := v.raw("one of " + strings.Join(choices, ", "))
	if !ok {
		return "", false
	}
	text = norm.NFC.String(strings.TrimSpace(text))
	for _, c := range choices {
		if strings.EqualFold(c, text) {
			return c, true
		}
	}
	fix := "write one of " + strings.Join(choices, ", ")
	near := Nearest(text, choices)
	if near == "" {
		near = meant[strings.ToLower(text)]
	}
	if near != "" {
		fix = "did you mean " + near + "?"
	}
	v.Fault(Quote(text)+" is not "+noun, fix)
	return "", false
}

// Bool returns whether the value says yes.
func (v Value) Bool() (yes, ok bool) {
	text, ok := v.raw("true or false")
	if !ok {
		return false, false
	}
	switch strings.ToLower(strings.TrimSpace(text)) {
	case "true", "yes", "on":
		return true, true
	case "false", "no", "off":
		return false, true
	}
	v.Fault(Quote(text)+" is neither true nor false", "write true or false")
	return false, false
}

// decimal is a number written in full; only such are read.
var decimal = regexp.MustCompile(`^[+-]?(\d+\.?\d*|\.\d+)$`)

// MaxNumber is how many digits a number may have: enough to write any float64 in full.
const MaxNumber = 400

// Number returns the value as a number from low to high. The noun is what it is, e.g. "a weight".
func (v Value) Number(noun string, low, high float64) (float64, bool) {
	fix := "give a number from " + plain(low) + " to " + plain(high)
	text, ok := v.raw("a number")
	if !ok {
		return 0, false
	}
	text = strings.Replace(strings.TrimSpace(text), "−", "-", 1)
	if !decimal.MatchString(text) || len(text) > MaxNumber {
		if strings.Contains(text, ",") {
			fix += ", with a point before decimals"
		}
		v.Fault(Quote(text)+" is not "+noun, fix)
		return 0, false
	}
	n, err := strconv.ParseFloat(text, 64)
	if err != nil || !(low <= n && n <= high) {
		v.Fault(text+" is not "+noun, fix)
		return 0, false
	}
	return n, true
}

func plain(n float64) string { return strconv.FormatFloat(n, 'f', -1, 64) }

// Whole returns the value as a whole number from low to high.
func (v Value) Whole(noun string, low, high int) (int, bool) {
	text, ok := v.raw("a whole number")
	if !ok {
		return 0, false
	}
	text = strings.TrimSpace(text)
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil || n < int64(low) || n > int64(high) {
		v.Fault(Quote(text)+" is not "+noun, fmt.Sprintf("give a whole number from %d to %d", low, high))
		return 0, false
	}
	return int(n), true
}

// Seed returns the value as a whole number from 0 up to 18446744073709551615.
func (v Value) Seed() (uint64, bool) {
	text, ok := v.raw("a whole number")
	if !ok {
		return 0, false
	}
	n, err := strconv.ParseUint(strings.TrimSpace(text), 10, 64)
	if err != nil {
		v.Fault(Quote(text)+" is not a seed", "give a whole number from 0 to "+strconv.FormatUint(math.MaxUint64, 10))
		return 0, false
	}
	return n, true
}

// Length returns the value as a length from low to high mm, bare numbers being in the unit u. The
// noun is what it is, e.g. "a width".
func (v Value) Length(noun string, u measure.Unit, low, high float64) (float64, bool) {
	text, ok := v.raw("a length")
	if !ok {
		return 0, false
	}
	mm, err := measure.Parse(text, u)
	if err != nil {
		fault := err.(*measure.Error)
		v.Fault(fault.Wrong, fault.Fix)
		return 0, false
	}
	switch {
	case mm <= 0 && low > 0:
		v.Fault(measure.Precise(mm, u)+" is not "+noun, "give a number above 0")
	case mm < low:
		v.Fault(measure.Precise(mm, u)+" is too little for "+noun, "give at least "+measure.Precise(low, u))
	case mm > high:
		v.Fault(measure.Precise(mm, u)+" is too much for "+noun, "give at most "+measure.Precise(high, u))
	default:
		return mm, true
	}
	return 0, false
}
