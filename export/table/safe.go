package table

import (
	"strings"
	"unicode"
)

// guard is what stands before a text that a spreadsheet would otherwise run.
const guard = "'"

// Safe returns text as a cell that a spreadsheet shows and never runs. A control character, which
// a line break and a tab are, becomes a space; what begins like a formula has an apostrophe put
// before it.
func Safe(text string) string {
	text = strings.Map(spaced, strings.ToValidUTF8(text, "\uFFFD"))
	if runs(strings.TrimLeft(text, guard)) {
		return guard + text
	}
	return text
}

// Restore returns the text that Safe made cell of, but for control characters.
func Restore(cell string) string {
	if text, guarded := strings.CutPrefix(cell, guard); guarded && runs(strings.TrimLeft(text, guard)) {
		return text
	}
	return cell
}

func spaced(r rune) rune {
	if unicode.IsControl(r) {
		return ' '
	}
	return r
}

// runs reports whether a spreadsheet might take text for a formula. It may pass over blanks and
// characters without width before the sign that begins one, and take the wide forms of East Asian
// type for the sign itself.
func runs(text string) bool {
	text = strings.TrimLeftFunc(text, func(r rune) bool {
		return unicode.IsSpace(r) || !unicode.IsGraphic(r)
	})
	return text != "" && strings.ContainsRune("=+-@＝＋－＠−﹢﹣﹦﹫", []rune(text)[0])
}
