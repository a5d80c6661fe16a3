package picture

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"image"
	"image/draw"
	"io"
	"math"
	"regexp"
	"slices"
	"strings"

	"github.com/fyne-io/oksvg"
	"github.com/srwiley/rasterx"
)

// across is how many spots a drawing is rendered in along its longer side.
const across = 256

// Limits of a drawing.
const (
	maxElements = 1000
	maxNested   = 64
	maxDigits   = 7 // before the point of a number
)

// drawn renders an SVG file on white paper, stretched to the shape of its view box.
func drawn(data []byte) (img image.Image, err error) {
	if len(data) > MaxSVG {
		return nil, &Error{fmt.Sprintf("has more than %d bytes", MaxSVG), another}
	}
	if err := drawable(data); err != nil {
		return nil, err
	}
	defer func() {
		if r := recover(); r != nil {
			img, err = nil, &Error{"cannot be drawn", another}
		}
	}()
	icon, err := oksvg.ReadIconStream(bytes.NewReader(data), oksvg.IgnoreErrorMode)
	if err != nil {
		return nil, &Error{"is a broken SVG file", another}
	}
	box := icon.ViewBox
	shape := box.H / box.W
	if !(box.W > 0 && box.H > 0 && shape >= 1e-3 && shape <= 1e3) {
		return nil, &Error{"does not say how large it is", `give it a viewBox, like viewBox="0 0 600 250"`}
	}
	w, h := across, int(math.Ceil(across*shape))
	if shape > 1 {
		w, h = int(math.Ceil(across/shape)), across
	}
	icon.SetTarget(0, 0, float64(w), float64(h))
	paper := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(paper, paper.Rect, image.White, image.Point{}, draw.Src)
	icon.Draw(rasterx.NewDasher(w, h, rasterx.NewScannerGV(w, h, paper, paper.Rect)), 1)
	return paper, nil
}

// shapes are the elements that are drawn or that do not show.
var shapes = strings.Fields("svg g path rect circle ellipse line polyline polygon defs linearGradient radialGradient stop style title desc metadata namedview")

// measured are the attributes that hold numbers a renderer takes its time over.
var measured = strings.Fields("d points x y x1 y1 x2 y2 cx cy r rx ry width height viewBox transform gradientTransform stroke-width")

// plain are the values of properties for which a drawing comes out right; with others it does not.
var plain = map[string][]string{
	"fill-rule": {"nonzero"}, "clip-path": {"none"}, "mask": {"none"}, "filter": {"none"}, "stroke-dasharray": {"none"},
	"display": {"inline", "block"}, "visibility": {"visible"}, "mix-blend-mode": {"normal"},
}

var (
	declaration = regexp.MustCompile(`([a-z-]+)\s*:\s*([^;}]+)`)
	long        = regexp.MustCompile(fmt.Sprintf(`(?:^|[^.\d])\d{%d}|\d[eE]\+?\d`, maxDigits+1))
)

// drawable complains of what the renderer leaves out or draws otherwise than it is meant.
func drawable(data []byte) error {
	d := xml.NewDecoder(bytes.NewReader(data))
	d.CharsetReader = func(string, io.Reader) (io.Reader, error) { return nil, errors.New("not UTF-8") }
	elements, depth, inStyle := 0, 0, false
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return &Error{"is a broken SVG file", another}
		}
		switch t := token.(type) {
		case xml.StartElement:
			elements, depth = elements+1, depth+1
			name := t.Name.Local
			switch {
			case elements > maxElements || depth > maxNested:
				return &Error{fmt.Sprintf("has more than %d elements, or more than %d within one another", maxElements, maxNested), another}
			case t.Name.Space != "" && t.Name.Space != "http://www.w3.org/2000/svg":
				if err := d.Skip(); err != nil {
					return &Error{"is a broken SVG file", another}
				}
				depth--
				continue
			case !slices.Contains(shapes, name), name == "svg" && elements > 1:
				return &Error{"holds an element that is not drawn here, <" + short(name) + ">", "turn it into paths, or save the drawing as a PNG"}
			}
			inStyle = name == "style"
			if err := plainAttributes(t.Attr); err != nil {
				return err
			}
		case xml.EndElement:
			depth, inStyle = depth-1, false
		case xml.CharData:
			if inStyle {
				if err := plainStyle(string(t)); err != nil {
					return err
				}
			}
		}
	}
}

// plainAttributes complains of attributes that are not drawn as they are meant.
func plainAttributes(attributes []xml.Attr) error {
	for _, a := range attributes {
		if a.Name.Space != "" {
			continue
		}
		if a.Name.Local == "style" {
			if err := plainStyle(a.Value); err != nil {
				return err
			}
			continue
		}
		if err := plainProperty(a.Name.Local, a.Value); err != nil {
			return err
		}
		if slices.Contains(measured, a.Name.Local) && long.MatchString(a.Value) {
			return &Error{"holds a number that is too large or written with an exponent, in " + a.Name.Local, fmt.Sprintf("save it with plain numbers of at most %d digits before the point, or as a PNG", maxDigits)}
		}
	}
	return nil
}

func plainStyle(style string) error {
	for _, d := range declaration.FindAllStringSubmatch(style, -1) {
		if err := plainProperty(d[1], d[2]); err != nil {
			return err
		}
	}
	return nil
}

func plainProperty(name, value string) error {
	value = strings.TrimSpace(value)
	if good, known := plain[name]; known && !slices.Contains(good, value) {
		return &Error{"has " + name + ": " + short(value) + ", which is not drawn here", "save the drawing as a PNG"}
	}
	return nil
}

// short returns the beginning of a text that may be long.
func short(text string) string {
	if len(text) > 30 {
		return strings.ToValidUTF8(text[:30], "") + "…"
	}
	return text
}
