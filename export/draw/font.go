package draw

import (
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// box stands in for a character that the font lacks.
const box = '□'

// A face is what is known of one font: how wide its characters are and how tall its capitals,
// both in parts of the em.
type face struct {
	latin   [0x250]float64 // of the first characters, which most texts are of
	other   map[rune]float64
	capital float64
}

// advance returns how far the character moves the pen, 0 where the font lacks it.
func (f *face) advance(r rune) float64 {
	if int(r) < len(f.latin) {
		return f.latin[r]
	}
	return f.other[r]
}

// regular and bold read the two embedded fonts, once; what they return is never changed.
var (
	regular = sync.OnceValue(func() *face { return readFace(goregular.TTF) })
	bold    = sync.OnceValue(func() *face { return readFace(gobold.TTF) })
)

func faceOf(heavy bool) *face {
	if heavy {
		return bold()
	}
	return regular()
}

// readFace measures every character of the Basic Multilingual Plane that the font has. The fonts
// are part of the program, so one that cannot be read is a broken build.
func readFace(ttf []byte) *face {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		panic("draw: embedded font: " + err.Error())
	}
	var buf sfnt.Buffer
	units := fixed.I(int(f.UnitsPerEm()))
	metrics, err := f.Metrics(&buf, units, font.HintingNone)
	if err != nil {
		panic("draw: embedded font: " + err.Error())
	}
	out := &face{other: map[rune]float64{}, capital: float64(metrics.CapHeight) / float64(units)}
	for r := rune(' '); r <= 0xFFFF; r++ {
		glyph, err := f.GlyphIndex(&buf, r)
		if err != nil || glyph == 0 {
			continue
		}
		advance, err := f.GlyphAdvance(&buf, glyph, units, font.HintingNone)
		if err != nil {
			continue
		}
		if int(r) < len(out.latin) {
			out.latin[r] = float64(advance) / float64(units)
		} else {
			out.other[r] = float64(advance) / float64(units)
		}
	}
	return out
}
