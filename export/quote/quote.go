// Package quote shows what was found in somebody's file within a message.
package quote

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// most is how many characters of a text are shown.
const most = 48

// Text returns text in quotation marks: shortened, and with nothing that could upset a terminal.
func Text(text string) string {
	if utf8.RuneCountInString(text) > most {
		text = string([]rune(text)[:most]) + "…"
	}
	var b strings.Builder
	for _, r := range text {
		if r == utf8.RuneError || (!unicode.IsGraphic(r) && r != ' ') {
			fmt.Fprintf(&b, `\u%04x`, r)
			continue
		}
		b.WriteRune(r)
	}
	return `"` + b.String() + `"`
}
