package photo

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
)

// Limits of what is read and of what is drawn.
const (
	MaxBytes  = 32 << 20 // of a file
	MaxPixels = 50 << 20
	MaxSide   = 2400 // pixels of the longer side of what is printed
	MaxPhotos = 12   // in a plan
)

// A Picture is a photo as a viewer shows it.
type Picture struct {
	Width, Height int // pixels of the file, turned upright
	small         *image.RGBA
}

// An Error is what is wrong with a file.
type Error struct{ Wrong, Fix string }

// Error returns the whole of it on one line.
func (e *Error) Error() string { return e.Wrong + "; " + e.Fix }

// Decode returns the photo in data, a whole JPEG or PNG file, turned as its orientation tag says and
// scaled down to MaxSide. The error is an *Error.
func Decode(data []byte) (Picture, error) {
	const smaller = "save it smaller; 2400 pixels either way are enough"
	decodeConfig, decode, kind, turn := jpeg.DecodeConfig, jpeg.Decode, "JPEG", 1
	switch {
	case len(data) > MaxBytes:
		return Picture{}, &Error{fmt.Sprintf("has more than %d MiB", MaxBytes>>20), smaller}
	case bytes.HasPrefix(data, []byte("\x89PNG\r\n\x1a\n")):
		decodeConfig, decode, kind = png.DecodeConfig, png.Decode, "PNG"
	case bytes.HasPrefix(data, []byte("\xff\xd8\xff")):
		turn = orientation(data)
	default:
		return Picture{}, &Error{"is neither a JPEG nor a PNG file", "save the photo as a JPEG"}
	}
	c, err := decodeConfig(bytes.NewReader(data))
	if err == nil && (c.Width < 16 || c.Height < 16 || c.Width > MaxPixels/c.Height) {
		return Picture{}, &Error{fmt.Sprintf("has %d x %d pixels", c.Width, c.Height), smaller}
	}
	var img image.Image
	if err == nil {
		img, err = decode(bytes.NewReader(data))
	}
	if err != nil {
		return Picture{}, &Error{"is a broken " + kind + " file, or ends too soon", "copy it from the camera again, or save it anew as a JPEG"}
	}
	return upright(img, turn), nil
}

// upright turns an image and scales it down, in whole numbers, by the mean of the pixels under each.
// The orientations are those of TIFF 6.0 (p. 36, from memory): 5 to 8 swap rows and columns.
func upright(img image.Image, turn int) Picture {
	b := img.Bounds()
	w, h := b.Dx(), b.Dy()
	if turn >= 5 {
		w, h = h, w
	}
	stored := func(x, y int) (int, int) { // of a pixel as it is seen
		switch turn {
		case 2:
			return w - 1 - x, y
		case 3:
			return w - 1 - x, h - 1 - y
		case 4:
			return x, h - 1 - y
		case 5:
			return y, x
		case 6:
			return y, w - 1 - x
		case 7:
			return h - 1 - y, w - 1 - x
		case 8:
			return h - 1 - y, x
		}
		return x, y
	}
	sw, sh := w, h
	if long := max(w, h); long > MaxSide {
		sw, sh = max(1, w*MaxSide/long), max(1, h*MaxSide/long)
	}
	small := image.NewRGBA(image.Rect(0, 0, sw, sh))
	for y := range sh {
		for x := range sw {
			var r, g, bl, n int
			for v := y * h / sh; v < max(y*h/sh+1, (y+1)*h/sh); v++ {
				for u := x * w / sw; u < max(x*w/sw+1, (x+1)*w/sw); u++ {
					i, j := stored(u, v)
					c := color.NRGBAModel.Convert(img.At(b.Min.X+i, b.Min.Y+j)).(color.NRGBA)
					a := int(c.A) // on white paper
					r += (int(c.R)*a + 255*(255-a)) / 255
					g += (int(c.G)*a + 255*(255-a)) / 255
					bl += (int(c.B)*a + 255*(255-a)) / 255
					n++
				}
			}
			small.SetRGBA(x, y, color.RGBA{uint8(r / n), uint8(g / n), uint8(bl / n), 255})
		}
	}
	return Picture{w, h, small}
}

// orientation returns the orientation tag (0x0112) of the Exif part of a JPEG, 1 where there is none
// that makes sense. Nothing past the segment that says it is Exif is looked at.
func orientation(data []byte) int {
	for at := 2; at+4 <= len(data) && data[at] == 0xff; {
		length := int(binary.BigEndian.Uint16(data[at+2:]))
		if data[at+1] == 0xda || length < 2 || at+2+length > len(data) {
			return 1
		}
		if body := data[at+4 : at+2+length]; data[at+1] == 0xe1 && bytes.HasPrefix(body, []byte("Exif\x00\x00")) {
			return tagged(body[6:])
		}
		at += 2 + length
	}
	return 1
}

// tagged returns the orientation in the first directory of a TIFF file.
func tagged(tiff []byte) int {
	if len(tiff) < 8 {
		return 1
	}
	var order binary.ByteOrder = binary.LittleEndian
	if string(tiff[:2]) == "MM" {
		order = binary.BigEndian
	}
	first := uint64(order.Uint32(tiff[4:]))
	if first+2 > uint64(len(tiff)) {
		return 1
	}
	entries := tiff[first+2:]
	for range order.Uint16(tiff[first:]) {
		if len(entries) < 12 {
			return 1
		}
		if order.Uint16(entries) == 0x0112 {
			if n := int(order.Uint16(entries[8:])); order.Uint16(entries[2:]) == 3 && n >= 1 && n <= 8 {
				return n
			}
			return 1
		}
		entries = entries[12:]
	}
	return 1
}
