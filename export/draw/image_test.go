package draw_test

import (
	"bytes"
	"image"
	"image/jpeg"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/draw"
	"wallshoal/export/worktest"
	"wallshoal/wall/plane"
)

// encoded returns a small JPEG of one grey.
func encoded(t *testing.T, level uint8) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 16, 8))
	for i := range img.Pix {
		img.Pix[i] = level
	}
	var out bytes.Buffer
	require.NoError(t, jpeg.Encode(&out, img, nil))
	return out.Bytes()
}

// A picture is part of the document, which other programs take; the same one may be drawn twice.
func TestImages(t *testing.T) {
	data := encoded(t, 40)
	images := func(c draw.Canvas) {
		c.Page(100, 100)
		for x := range 2 {
			c.Image(plane.Rect{Min: plane.Point{X: 50 * float64(x), Y: 10}, Max: plane.Point{X: 50*float64(x) + 40, Y: 30}}, data)
		}
	}
	one, _ := asPDF(t, images)
	two, _ := asPDF(t, images)
	assert.Equal(t, one, two)
	worktest.Judge(t, "a.pdf", one, "qpdf", "--check", "FILE")
	text, _ := asSVG(t, images)
	assert.Equal(t, 2, strings.Count(text, "<image "))
	worktest.Judge(t, "a.svg", []byte(text), "xmllint", "--noout", "FILE")
	r := draw.NewRecord()
	images(r)
	require.NoError(t, r.Close())
	assert.Equal(t, "image", r.Marks[1].Kind)
	assert.Equal(t, data, r.Marks[1].JPEG)

	p := draw.NewPDF(draw.About{}, day)
	p.Page(100, 100)
	p.Image(plane.Rect{Max: plane.Point{X: 9, Y: 9}}, []byte("GIF89a"))
	_, err := p.WriteTo(&bytes.Buffer{})
	assert.ErrorContains(t, err, "a picture is no JPEG")
}

// Any number of pictures as wide as one another come out in the order of drawing, in the same bytes every
// time. The library keeps them in a map: with a dozen, chance would give one order twice in 12! runs.
func TestPicturesOfOneWidth(t *testing.T) {
	images := func(c draw.Canvas) {
		for n := range 12 {
			c.Page(100, 100)
			c.Image(plane.Rect{Min: plane.Point{X: 10, Y: 10}, Max: plane.Point{X: 90, Y: 50}}, encoded(t, uint8(20*n)))
		}
	}
	one, _ := asPDF(t, images)
	two, _ := asPDF(t, images)
	assert.Equal(t, one, two)
	assert.Equal(t, 12, bytes.Count(one, []byte("/Subtype /Image")))
	assert.Equal(t, 12, bytes.Count(one, []byte("/Width 16\n")), "as wide as the files say")
	at := 0
	for n := range 12 {
		next := bytes.Index(one, encoded(t, uint8(20*n)))
		assert.Greater(t, next, at, "picture %d", n)
		at = next
	}
	worktest.Judge(t, "a.pdf", one, "qpdf", "--check", "FILE")
}

// Elements of one page share their ids, so each has a beginning of its own; and what stands in a name
// closes no attribute.
func TestInlineSVG(t *testing.T) {
	var out bytes.Buffer
	s := draw.NewInlineSVG(&out, draw.About{Title: `A "wall" <& more>`, Subject: "its picture"}, "w7")
	picture(s)
	require.NoError(t, s.Close())
	said := out.String()
	assert.True(t, strings.HasPrefix(said, "<svg "), said[:20])
	assert.Contains(t, said, `aria-label="A &#34;wall&#34; &lt;&amp; more&gt;: its picture"`)
	assert.Contains(t, said, `id="w7clip1"`)
	assert.Contains(t, said, `url(#w7clip1)`)
	assert.NotContains(t, said, `"clip1"`)
}
