package caution

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// sentences joins parts to whole sentences; empty parts are passed over.
func sentences(parts ...string) string {
	var whole []string
	for _, part := range parts {
		if s := sentence(part); s != "" {
			whole = append(whole, s)
		}
	}
	return strings.Join(whole, " ")
}

// sentence returns s with a capital and a full stop.
func sentence(s string) string {
	s = strings.TrimSpace(s)
	if s == "" {
		return ""
	}
	first, size := utf8.DecodeRuneInString(s)
	s = string(unicode.ToUpper(first)) + s[size:]
	if strings.HasSuffix(s, ".") {
		return s
	}
	return s + "."
}

// mostNamed is how many things a caution names before it counts the rest.
const mostNamed = 6

// where returns what the zones of a caution belong to; empty where they have no names.
func where(names map[string]bool) string {
	if len(names) == 0 {
		return ""
	}
	sorted := slices.Sorted(maps.Keys(names))
	if more := len(sorted) - mostNamed; more > 0 {
		sorted = append(sorted[:mostNamed], fmt.Sprintf("%d more", more))
	}
	return "where: " + strings.Join(sorted, ", ")
}

// list returns the words as one reads them out: "a, b and c".
func list(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}
