package photo_test

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/photo"
)

// tagged returns a JPEG with an orientation tag.
func tagged(data []byte, turn uint16) []byte {
	exif := []byte("Exif\x00\x00MM\x00\x2a\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01")
	exif = binary.BigEndian.AppendUint16(exif, turn)
	exif = append(exif, 0, 0, 0, 0, 0, 0)
	out := append([]byte{0xff, 0xd8, 0xff, 0xe1}, binary.BigEndian.AppendUint16(nil, uint16(len(exif)+2))...)
	return append(append(out, exif...), data[2:]...)
}

// Where row 0 and column 0 of the file are seen, by TIFF 6.0, Orientation (from memory).
func TestOrientation(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 64, 32))
	for i := range img.Pix {
		img.Pix[i] = 255
	}
	for y := range 16 {
		for x := range 16 {
			img.SetRGBA(x, y, color.RGBA{0, 0, 0, 255})
		}
	}
	for turn, want := range []string{1: "top left", "top right", "bottom right", "bottom left", "top left", "top right", "bottom right", "bottom left"} {
		if turn == 0 {
			continue
		}
		p, err := photo.Decode(tagged(encoded(t, img), uint16(turn)))
		require.NoError(t, err)
		if turn < 5 {
			assert.Equal(t, [2]int{64, 32}, [2]int{p.Width, p.Height})
		} else {
			assert.Equal(t, [2]int{32, 64}, [2]int{p.Width, p.Height})
		}
		for corner, at := range map[string][2]int{"top left": {4, 4}, "top right": {p.Width - 5, 4}, "bottom right": {p.Width - 5, p.Height - 5}, "bottom left": {4, p.Height - 5}} {
			assert.Equal(t, corner == want, photo.Dark(p, at[0], at[1]), "%d: %s", turn, corner)
		}
	}
}

func TestFaultsOfFiles(t *testing.T) {
	good := encoded(t, taken())
	for want, data := range map[string][]byte{
		"is neither a JPEG nor a PNG file":        []byte("GIF89a"),
		"is a broken JPEG file, or ends too soon": good[:len(good)/2],
		"has more than 32 MiB":                    make([]byte, photo.MaxBytes+1),
	} {
		_, err := photo.Decode(data)
		assert.ErrorContains(t, err, want)
	}
}

// Whatever is in the file, it is read or complained of.
func FuzzDecode(f *testing.F) {
	good := encoded(f, image.NewRGBA(image.Rect(0, 0, 20, 16)))
	f.Add(good)
	f.Add(tagged(good, 6))
	f.Add(tagged(good, 9)[:40])
	f.Fuzz(func(t *testing.T, data []byte) {
		if c, err := jpeg.DecodeConfig(bytes.NewReader(data)); len(data) > 1<<14 || err == nil && c.Width*c.Height > 1<<16 {
			t.Skip("large")
		}
		if p, err := photo.Decode(data); err == nil && (p.Width < 1 || p.Height < 1) {
			t.Fatal("no picture")
		}
	})
}
