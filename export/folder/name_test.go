package folder

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/text/unicode/norm"
)

func TestFileNames(t *testing.T) {
	for _, name := range []string{"holes.csv", "elevation-01-long-wall.svg", "hole-map.pdf", "стена.svg", "壁.svg", "a b.txt", "console.txt", "com10.txt", "lpt.txt"} {
		assert.NoError(t, checkName(name))
	}
	for _, name := range []string{
		"", ".", "..", "../a", "a/b", `a\b`, "/a", "c:a", "a*", "a?", `a"`, "<a", "a|b",
		".hidden", listName, "-rf", " a", "a ", "a.", "a\n", "a\x00b", "a\x7f", "a\u202egpj.svg", "a\u200b", "a\u2028",
		"con", "CON", "Con.svg", "con .svg", "nul", "aux.h", "prn", "com1", "COM9.csv", "lpt1.a.b", "com¹", "CONIN$", "\xff",
		strings.Repeat("a", longestName+1),
	} {
		assert.Error(t, checkName(name), "%q", name)
	}
}

func TestNamesThatFallOnOneAnother(t *testing.T) {
	tests := []struct{ one, other string }{
		{"Wall.svg", "wall.svg"},
		{"straße.svg", "STRASSE.svg"},
		{"caf\u00e9.svg", "cafe\u0301.svg"},
		{"same.svg", "same.svg"},
	}
	for _, tt := range tests {
		assert.Error(t, checkNames([]File{{Name: tt.one}, {Name: tt.other}}), "%s and %s", tt.one, tt.other)
	}
	assert.NoError(t, checkNames([]File{{Name: "a"}, {Name: "b"}}))
}

func TestSlug(t *testing.T) {
	tests := []struct{ name, want string }{
		{"Long wall", "long-wall"},
		{"Ticket wall (east) — 2nd floor", "ticket-wall-east-2nd-floor"},
		{"Östra väggen", "östra-väggen"},
		{"cafe\u0301", "caf\u00e9"},
		{"Стена у окна", "стена-у-окна"},
		{"Τοίχος", "τοίχος"},
		{"北の壁", "北の壁"},
		{"दीवार", "दीवार"},
		{"../../etc/passwd", "etc-passwd"},
		{`C:\wall`, "c-wall"},
		{"wall.svg\x00.pdf", "wall-svg-pdf"},
		{"--rf", "rf"},
		{"", "wall"},
		{"...", "wall"},
		{"\u0301", "wall"},
		{"\xff\xfe", "wall"},
		{"CON", "wall-con"},
		{"lpt1", "wall-lpt1"},
		{strings.Repeat("a", 100), strings.Repeat("a", 60)},
		{strings.Repeat("ж", 100), strings.Repeat("ж", 30)},
		{strings.Repeat("a", 59) + " b", strings.Repeat("a", 59)},
	}
	for _, tt := range tests {
		assert.Equal(t, tt.want, Slug(tt.name), "%q", tt.name)
	}
}

func FuzzSlug(f *testing.F) {
	for _, name := range []string{"Long wall", "../x", "CON", "\xff", "İstanbul", strings.Repeat("é ", 50), "a\u0301\u0301", "ﬁ", "ΑΣ", "\u0301a", "com¹"} {
		f.Add(name)
	}
	f.Fuzz(func(t *testing.T, name string) {
		slug := Slug(name)
		require.NoError(t, checkName(slug), "%q", slug)
		assert.NoError(t, checkName("elevation-01-"+slug+".svg"))
		assert.LessOrEqual(t, len(slug), longestSlug)
		assert.True(t, utf8.ValidString(slug))
		assert.True(t, norm.NFC.IsNormalString(slug))
		assert.Equal(t, slug, Slug(slug), "a slug is its own slug")
		assert.NotContains(t, slug, "--")
		assert.NotContains(t, slug, " ")
	})
}
