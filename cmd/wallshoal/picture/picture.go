// Package picture reads drawings in shades of grey from image files: PNG, JPEG and SVG.
package picture

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"io"

	"wallshoal/scatter/density"
)

// Limits of what is read.
const (
	MaxBytes  = 16 << 20 // of a file
	MaxPixels = 16 << 20 // of an image
	MaxSVG    = 1 << 20  // bytes of a drawing
)

// An Error is what is wrong with a file.
type Error struct {
	Wrong string // what was found
	Fix   string // what to do
}

// Error returns the whole of it on one line.
func (e *Error) Error() string { return e.Wrong + "; " + e.Fix }

const another = "save it anew, as a PNG"

// Read returns the picture in data, which is a whole file. What kind of file it is, its first bytes
// say. The error is an *Error.
func Read(data []byte) (density.Picture, error) {
	var img image.Image
	var err error
	switch {
	case len(data) > MaxBytes:
		return density.Picture{}, &Error{fmt.Sprintf("has more than %d bytes", MaxBytes), "save it smaller; 1000 pixels either way are enough"}
	case bytes.HasPrefix(data, []byte("\x89PNG\r\n\x1a\n")):
		img, err = decoded("PNG", data, png.DecodeConfig, png.Decode)
	case bytes.HasPrefix(data, []byte("\xff\xd8\xff")):
		img, err = decoded("JPEG", data, jpeg.DecodeConfig, jpeg.Decode)
	case bytes.Contains(data[:min(len(data), 4096)], []byte("<svg")):
		img, err = drawn(data)
	default:
		return density.Picture{}, &Error{"is neither a PNG nor a JPEG nor an SVG file", another}
	}
	if err != nil {
		return density.Picture{}, err
	}
	p := density.NewPicture(img)
	if p.Even() {
		return density.Picture{}, &Error{"is the same grey all over", "draw something on it, black where the pieces are to be densest"}
	}
	return p, nil
}

// decoded returns the image in data, and refuses one with too many pixels before it is decoded.
func decoded(kind string, data []byte, config func(io.Reader) (image.Config, error), decode func(io.Reader) (image.Image, error)) (image.Image, error) {
	c, err := config(bytes.NewReader(data))
	if err == nil && (c.Width < 1 || c.Height < 1 || c.Width > MaxPixels/c.Height) {
		return nil, &Error{fmt.Sprintf("has %d x %d pixels", c.Width, c.Height), "save it smaller; 1000 pixels either way are enough"}
	}
	var img image.Image
	if err == nil {
		img, err = decode(bytes.NewReader(data))
	}
	if err != nil {
		return nil, &Error{"is a broken " + kind + " file", another}
	}
	return img, nil
}
