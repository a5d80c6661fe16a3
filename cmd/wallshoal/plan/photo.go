package plan

import (
	"errors"
	"fmt"

	"wallshoal/cmd/wallshoal/picture"
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/export/photo"
	"wallshoal/wall/plane"
)

// PhotoSection is a photo of a wall, over which its pieces are drawn.
//
//	file:    a JPEG or PNG file in the folder of the plan or in one within it; needed
//	points:  a list of 4 to 20 points of the photo whose places on the wall are known; needed; each
//	         with pixel, [x, y] from the top-left corner of the photo as a viewer shows it, y down;
//	         and at, [x, y] on the wall's own plane, from its left end and the floor
type PhotoSection = photo.View

// photo reads the photo of the wall with the given index and outline.
func (r *reader) photo(v yamlfile.Value, wall int, outline plane.Ring) {
	if !v.Given() {
		return
	}
	const fix = "name a file and points, like {file: hall.jpg, points: [{pixel: [412, 1033], at: [0, 0]}, …]}"
	m, ok := v.Map("file", "points")
	if !ok {
		return
	}
	if len(r.photos) >= photo.MaxPhotos {
		v.Fault(fmt.Sprintf("is one more photo than the %d there can be", photo.MaxPhotos), "remove one")
		return
	}
	name, p, sound := r.photoFile(m.Get("file").Need(fix))
	list := m.Get("points").Need(fix)
	items, ok := list.List(photo.MaxPoints, "a list of points, each like {pixel: [412, 1033], at: [0, 0]}")
	sound = sound && ok
	var points []photo.Point
	for _, item := range items {
		q, ok := item.Map("pixel", "at")
		if !ok {
			sound = false
			continue
		}
		pixel, good := pixelOf(q.Get("pixel").Need("say where the point is in the photo, like [412, 1033]"))
		at, placed := r.point(q.Get("at").Need("say where the point is on the wall, like [0, 0]"), -MaxLength, MaxLength)
		if b := outline.Bounds(); placed && len(outline) > 0 && !b.Grow(10).Contains(at) {
			q.Get("at").Fault("the point lies off the wall", "measure it from the wall's left end and from the floor, on the wall's own plane")
			placed = false
		}
		sound = sound && good && placed
		points = append(points, photo.Point{Pixel: pixel, At: at})
	}
	if !sound {
		return
	}
	view, faults := photo.New(wall, name, p, points)
	for _, f := range faults {
		switch at := list; {
		case f.Point < 0:
			at.Fault(f.Wrong, f.Fix)
		default:
			field := fmt.Sprintf("%s[%d]", list.Field(), f.Point)
			if f.Pixel {
				field += ".pixel"
			}
			r.file.Fault(field, f.Wrong, f.Fix)
		}
	}
	if len(faults) == 0 {
		r.photos = append(r.photos, view)
	}
}

// photoFile reads the photo that v names.
func (r *reader) photoFile(v yamlfile.Value) (string, photo.Picture, bool) {
	name, ok := v.Text(maxTitle)
	if !ok {
		return "", photo.Picture{}, false
	}
	data, err := r.beside(name, photo.MaxBytes)
	var p photo.Picture
	if err == nil {
		p, err = photo.Decode(data)
	}
	var bad *photo.Error
	var astray *picture.Error
	switch {
	case err == nil:
		return name, p, true
	case errors.As(err, &bad):
		v.Fault(yamlfile.Quote(name)+" "+bad.Wrong, bad.Fix)
	case errors.As(err, &astray):
		v.Fault(yamlfile.Quote(name)+" "+astray.Wrong, astray.Fix)
	default:
		v.Fault(yamlfile.Quote(name)+" cannot be read", "name a file that you may read, in the folder of the plan or in one within it")
	}
	return "", photo.Picture{}, false
}

// pixelOf reads a place in a photo.
func pixelOf(v yamlfile.Value) (plane.Point, bool) {
	const fix = "two numbers of pixels, like [412, 1033]"
	items, ok := v.List(MaxCorners, fix)
	if !ok {
		return plane.Point{}, false
	}
	if len(items) != 2 {
		v.Fault(fmt.Sprintf("has %d numbers", len(items)), "write "+fix)
		return plane.Point{}, false
	}
	x, okX := items[0].Number("a pixel", -1e6, 1e6)
	y, okY := items[1].Number("a pixel", -1e6, 1e6)
	return plane.Point{X: x, Y: y}, okX && okY
}
