package yamledit

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"wallshoal/cmd/wallshoal/yamlfile"
)

// Limits of a value that is written in brackets.
const (
	maxDeep  = 8
	maxItems = 1000 // of one list or map
)

// writable says what is wrong with a value, or nothing.
func writable(v any, deep int) string {
	if deep > maxDeep {
		return fmt.Sprintf("holds lists and maps more than %d deep", maxDeep)
	}
	switch v := v.(type) {
	case bool, int, int64, uint64:
	case float64:
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Sprintf("is to be %g", v)
		}
	case string:
		return textual(v)
	case List:
		if len(v) > maxItems {
			return fmt.Sprintf("is to have %d items", len(v))
		}
		for _, item := range v {
			if wrong := writable(item, deep+1); wrong != "" {
				return wrong
			}
		}
	case Map:
		if len(v) > maxItems {
			return fmt.Sprintf("is to have %d keys", len(v))
		}
		seen := map[string]bool{}
		for _, e := range v {
			if wrong := keyed(e.Key); wrong != "" {
				return wrong
			}
			if seen[e.Key] {
				return "is to have the key " + yamlfile.Quote(e.Key) + " twice"
			}
			seen[e.Key] = true
			if wrong := writable(e.Value, deep+1); wrong != "" {
				return wrong
			}
		}
	default:
		return fmt.Sprintf("is to be a %T", v)
	}
	return ""
}

// textual says what is wrong with a text as a value.
func textual(text string) string {
	if !utf8.ValidString(text) {
		return "is to be no UTF-8 text"
	}
	for _, r := range text {
		if yamlfile.Hidden(r) && r != '\n' && r != '\t' {
			return fmt.Sprintf("is to hold a hidden character (U+%04X)", r)
		}
	}
	return ""
}

// keyed says what is wrong with a text as a key.
func keyed(key string) string {
	if key == "" || strings.ContainsAny(key, "\n\t") {
		return "is to have a key that is no plain word"
	}
	return textual(key)
}

// node returns v as the reader is to see it. A tag is empty where any but that of nothing will do.
func node(v any) *yaml.Node {
	switch v := v.(type) {
	case List:
		n := &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq"}
		for _, item := range v {
			n.Content = append(n.Content, node(item))
		}
		return n
	case Map:
		n := &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map"}
		for _, e := range v {
			n.Content = append(n.Content, &yaml.Node{Kind: yaml.ScalarNode, Value: e.Key}, node(e.Value))
		}
		return n
	}
	return &yaml.Node{Kind: yaml.ScalarNode, Value: literal(v)}
}

// literal returns a single value as text.
func literal(v any) string {
	switch v := v.(type) {
	case float64:
		return strconv.FormatFloat(v+0, 'f', -1, 64)
	case string:
		return v
	}
	return fmt.Sprint(v)
}

// write returns v as it stands in a file: in brackets what holds others. A single value gets the quotation
// marks of the style where it is a text, and other ones only where it needs them.
func write(v any, flow bool, style yaml.Style) string {
	switch v := v.(type) {
	case List:
		parts := make([]string, len(v))
		for i, item := range v {
			parts[i] = write(item, true, 0)
		}
		return "[" + strings.Join(parts, ", ") + "]"
	case Map:
		parts := make([]string, len(v))
		for i, e := range v {
			parts[i] = write(e.Key, true, 0) + ": " + write(e.Value, true, 0)
		}
		return "{" + strings.Join(parts, ", ") + "}"
	case string:
		broken := strings.ContainsAny(v, "\n\t")
		switch {
		case style == yaml.SingleQuotedStyle && !broken:
			return "'" + strings.ReplaceAll(v, "'", "''") + "'"
		case style == yaml.DoubleQuotedStyle || broken || !standsPlain(v, flow):
			return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`, "\t", `\t`).Replace(v) + `"`
		}
		return v
	}
	return literal(v)
}

// standsPlain reports whether a text reads as itself where it stands without quotation marks.
func standsPlain(text string, flow bool) bool {
	const most = 1000 // longer ones are not asked about
	if text == "" || len(text) > most || strings.HasPrefix(text, "#") {
		return false
	}
	doc := "k: " + text + "\n"
	if flow {
		doc = "k: [" + text + ", " + text + "]\n"
	}
	n, err := open([]byte(doc))
	if err != nil || len(n.root.Content) != 2 || len(n.comments) > 0 {
		return false
	}
	items := n.root.Content[1:]
	if flow {
		if items = items[0].Content; len(items) != 2 {
			return false
		}
	}
	for _, i := range items {
		if i.Kind != yaml.ScalarNode || i.Style != 0 || i.Anchor != "" || n.own[i] || i.Value != text || i.Tag == "!!null" || i.Tag == "!!merge" {
			return false
		}
	}
	// A key must read as itself as well.
	n, err = open([]byte(text + ": v\n"))
	return err == nil && len(n.root.Content) == 2 && n.root.Content[0].Value == text && n.root.Content[0].Tag != "!!merge"
}

// decimal is a number as plans write it.
var decimal = regexp.MustCompile(`^[+-]?(\d+\.?\d*|\.\d+)$`)

// already reports whether n says v as it is: a text the same, a number one of the same worth, true and
// false in any way that plans write them.
func already(n *yaml.Node, v any) bool {
	switch v := v.(type) {
	case List:
		if n.Kind != yaml.SequenceNode || len(n.Content) != len(v) {
			return false
		}
		for i, item := range v {
			if !already(n.Content[i], item) {
				return false
			}
		}
		return true
	case Map:
		if n.Kind != yaml.MappingNode || len(n.Content) != 2*len(v) {
			return false
		}
		for i, e := range v {
			if n.Content[2*i].Value != e.Key || !already(n.Content[2*i+1], e.Value) {
				return false
			}
		}
		return true
	}
	if n.Kind != yaml.ScalarNode || n.Tag == "!!null" {
		return false
	}
	switch v := v.(type) {
	case bool:
		switch strings.ToLower(strings.TrimSpace(n.Value)) {
		case "true", "yes", "on":
			return v
		case "false", "no", "off":
			return !v
		}
		return false
	case string:
		return n.Value == v
	case float64:
		was, err := strconv.ParseFloat(n.Value, 64)
		return err == nil && decimal.MatchString(n.Value) && was == v
	}
	return literal(v) == n.Value || wholly(n.Value) && strings.TrimLeft(strings.TrimLeft(n.Value, "+"), "0") == literal(v)
}

// wholly reports whether a text is a whole number.
func wholly(text string) bool {
	return decimal.MatchString(text) && !strings.Contains(text, ".")
}
