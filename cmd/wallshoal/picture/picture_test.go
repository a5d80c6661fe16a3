package picture_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/picture"
	"wallshoal/scatter/density"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// laid returns the ink of the picture at shares of its width from the left and its height from the top.
func laid(p density.Picture) func(x, y float64) float64 {
	f := space.Upright(space.Vec{}, 0)
	m := density.Map{Picture: p, Wall: f, Over: plane.Rect{Max: plane.Point{X: 1, Y: 1}}, Faces: map[space.Frame]bool{f: true}, Black: 1}
	return func(x, y float64) float64 { return m.At(f, plane.Point{X: x, Y: 1 - y}) }
}

// halves is an image that is black on its left and white on its right.
func halves() image.Image {
	img := image.NewNRGBA(image.Rect(0, 0, 40, 20))
	for x := range 40 {
		for y := range 20 {
			img.SetNRGBA(x, y, color.NRGBA{uint8(x / 20 * 255), uint8(x / 20 * 255), uint8(x / 20 * 255), 255})
		}
	}
	return img
}

func TestPixels(t *testing.T) {
	var asPNG, asJPEG bytes.Buffer
	require.NoError(t, png.Encode(&asPNG, halves()))
	require.NoError(t, jpeg.Encode(&asJPEG, halves(), &jpeg.Options{Quality: 100}))
	for _, data := range [][]byte{asPNG.Bytes(), asJPEG.Bytes()} {
		p, err := picture.Read(data)
		require.NoError(t, err)
		ink := laid(p)
		assert.InDelta(t, 1, ink(0.1, 0.5), 0.02)
		assert.InDelta(t, 0, ink(0.9, 0.5), 0.02)
		assert.InDelta(t, 0.5, ink(0.5, 0.5), 0.05)
	}
}

// drawing is shapes of every kind, by attributes, styles and classes, within moved groups.
const drawing = `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" xmlns:x="http://example.org/x" width="160mm" height="80mm" viewBox="0 0 160 80">
  <title>Shoal</title>
  <x:view zoom="12345678901"><x:text/></x:view>
  <style>.k { fill: #333333 }</style>
  <defs><linearGradient id="g"><stop offset="0" stop-color="#000"/><stop offset="1" stop-color="#fff"/></linearGradient></defs>
  <rect x="0" y="0" width="80" height="20" fill="url(#g)"/>
  <g transform="translate(100,0)"><path class="k" d="M0,0 h40 v20 h-40 z"/></g>
  <circle cx="20" cy="60" r="15" style="fill:#808080;fill-rule:nonzero"/>
  <path d="M60 45 h30 v30 h-30 z M65 50 v20 h20 v-20 z" opacity="0.5"/>
  <line x1="100" y1="60" x2="150" y2="60" stroke="black" stroke-width="10"/>
</svg>`

func TestDrawing(t *testing.T) {
	p, err := picture.Read([]byte(drawing))
	require.NoError(t, err)
	ink := laid(p)
	at := func(x, y float64) float64 { return ink(x/160, y/80) }
	assert.InDelta(t, 0.75, at(20, 10), 0.02, "a gradient from black to white")
	assert.InDelta(t, 0.25, at(60, 10), 0.02)
	assert.InDelta(t, 0.8, at(120, 10), 0.01, "#333 is 51 of 255")
	assert.InDelta(t, 127.0/255, at(20, 60), 0.01, "#808080 is 128 of 255")
	assert.InDelta(t, 0, at(20, 40), 0.01, "nothing")
	assert.InDelta(t, 0.5, at(62, 60), 0.01, "black that half of is seen")
	assert.InDelta(t, 0, at(75, 60), 0.01, "a hole that runs the other way")
	assert.InDelta(t, 1, at(125, 60), 0.01)
	assert.InDelta(t, 0, at(125, 70), 0.01)
}

// pngOf is the head of a PNG that says it has so many pixels.
func pngOf(width, height uint32) []byte {
	head := binary.BigEndian.AppendUint32([]byte("IHDR"), width)
	head = append(binary.BigEndian.AppendUint32(head, height), 8, 0, 0, 0, 0)
	data := append([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x0d"), head...)
	return binary.BigEndian.AppendUint32(data, crc32.ChecksumIEEE(head))
}

func TestFaults(t *testing.T) {
	svg := func(inside string) []byte {
		return []byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10">` + inside + `<rect width="5" height="5"/></svg>`)
	}
	var even bytes.Buffer
	require.NoError(t, png.Encode(&even, image.NewGray(image.Rect(0, 0, 9, 9))))
	for name, tt := range map[string]struct {
		data []byte
		want string
	}{
		"nothing":       {nil, "is neither a PNG nor a JPEG nor an SVG file; save it anew, as a PNG"},
		"text":          {[]byte("title: Leaves"), "is neither a PNG nor a JPEG nor an SVG file; save it anew, as a PNG"},
		"long":          {make([]byte, picture.MaxBytes+1), "has more than 16777216 bytes; save it smaller; 1000 pixels either way are enough"},
		"broken PNG":    {even.Bytes()[:40], "is a broken PNG file; save it anew, as a PNG"},
		"broken JPEG":   {[]byte("\xff\xd8\xff\xe0 no"), "is a broken JPEG file; save it anew, as a PNG"},
		"a huge PNG":    {pngOf(1<<20, 1<<20), "has 1048576 x 1048576 pixels; save it smaller; 1000 pixels either way are enough"},
		"even":          {even.Bytes(), "is the same grey all over; draw something on it, black where the pieces are to be densest"},
		"broken SVG":    {svg("<g>"), "is a broken SVG file; save it anew, as a PNG"},
		"long SVG":      {svg(strings.Repeat(" ", picture.MaxSVG)), "has more than 1048576 bytes; save it anew, as a PNG"},
		"no size":       {[]byte(`<svg xmlns="http://www.w3.org/2000/svg"><rect width="5" height="5"/></svg>`), `does not say how large it is; give it a viewBox, like viewBox="0 0 600 250"`},
		"words":         {svg("<text>a</text>"), "holds an element that is not drawn here, <text>; turn it into paths, or save the drawing as a PNG"},
		"a clone":       {svg(`<g id="a"><use href="#a"/></g>`), "holds an element that is not drawn here, <use>; turn it into paths, or save the drawing as a PNG"},
		"even-odd":      {svg(`<path fill-rule="evenodd" d="M0 0"/>`), "has fill-rule: evenodd, which is not drawn here; save the drawing as a PNG"},
		"hidden":        {svg(`<g style="opacity:1; display : none"/>`), "has display: none, which is not drawn here; save the drawing as a PNG"},
		"a styled mask": {svg(`<style>.a{fill:red;mask:url(#m)}</style>`), "has mask: url(#m), which is not drawn here; save the drawing as a PNG"},
		"far":           {svg(`<path d="M0 0 L 123456789 1"/>`), "holds a number that is too large or written with an exponent, in d; save it with plain numbers of at most 7 digits before the point, or as a PNG"},
		"exponent":      {svg(`<g transform="scale(1e30)"/>`), "holds a number that is too large or written with an exponent, in transform; save it with plain numbers of at most 7 digits before the point, or as a PNG"},
		"deep":          {svg(strings.Repeat("<g>", 70)), "has more than 1000 elements, or more than 64 within one another; save it anew, as a PNG"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := picture.Read(tt.data)
			assert.EqualError(t, err, tt.want)
		})
	}
	_, err := picture.Read(svg(`<path d="M0.123456789 1e-17 L1 1"/>`))
	assert.NoError(t, err, "digits after the point")
}

// Whatever is in the file, it is read or complained of.
func FuzzRead(f *testing.F) {
	f.Add([]byte(drawing))
	f.Add([]byte(`<svg viewBox="0 0 9 9"><path d="M1 1 A 3 4 20 1 0 5 5 Q 1 2 3 4 T 5 6 C 1 2 3 4 5 6 S 1 2 3 4 Z"/><polygon points="1,2 3,4 5,6"/></svg>`))
	f.Add([]byte(`<svg viewBox="0 0 9 9"><defs><radialGradient id="a" href="#b" gradientTransform="matrix(1 2 3 4 5 6)"/><linearGradient id="b" href="#a"/></defs><ellipse rx="3" ry="4" fill="url(#a)" stroke="rgb(1,2,3)" stroke-linejoin="round"/></svg>`))
	var data bytes.Buffer
	require.NoError(f, png.Encode(&data, halves()))
	f.Add(data.Bytes())
	f.Add(pngOf(20, 20))
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 1<<14 {
			t.Skip("long")
		}
		p, err := picture.Read(data)
		if err != nil {
			var fault *picture.Error
			require.True(t, errors.As(err, &fault))
			require.NotEmpty(t, fault.Fix)
			return
		}
		ink := laid(p)(0.3, 0.6)
		require.True(t, ink >= 0 && ink <= 1+1e-9)
	})
}
