package quote_test

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"

	"wallshoal/export/quote"
)

func TestText(t *testing.T) {
	for text, want := range map[string]string{
		"": `""`, "fold": `"fold"`, "två herring": `"två herring"`, "a\x1b[31mb": `"a\u001b[31mb"`, "a\u202eb": `"a\u202eb"`, "a\tb\n": `"a\u0009b\u000a"`,
		strings.Repeat("å", 48): `"` + strings.Repeat("å", 48) + `"`, strings.Repeat("å", 49): `"` + strings.Repeat("å", 48) + `…"`,
	} {
		assert.Equal(t, want, quote.Text(text))
	}
}

// Whatever stands in a file, a message shows it on one line that is not long, and nothing of it is obeyed.
func FuzzText(f *testing.F) {
	f.Add("a\x00b\xff\u2028")
	f.Fuzz(func(t *testing.T, text string) {
		said := quote.Text(text)
		assert.True(t, utf8.ValidString(said))
		assert.LessOrEqual(t, utf8.RuneCountInString(said), 10*50)
		for _, r := range said {
			assert.True(t, unicode.IsGraphic(r), "%U", r)
		}
	})
}
