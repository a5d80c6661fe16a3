package plan

import (
	"errors"
	"io"
	"io/fs"
	"path"
	"strings"

	"wallshoal/cmd/wallshoal/picture"
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter/density"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// MapSection is a drawing in shades of grey that is laid over a wall, and square to it over what
// stands there.
//
//	wall:    its name; needed
//	file:    a PNG, JPEG or SVG file in the folder of the plan or in one within it; needed
//	left, bottom, width, height
//	         an upright rectangle of the wall that the drawing is stretched over; the whole wall if
//	         left out
//	black:   how many times as dense it is where the drawing is black as with no drawing; 1 if left
//	         out
//	white:   the same where it is white; 0, nothing, if left out
//	beside:  the same on the wall beside the rectangle; 1 if left out
type MapSection = density.Map

// overlay reads a drawing that is laid over a wall.
func (s *stage) overlay(v yamlfile.Value) (density.Field, bool) {
	const fix = "name a wall and a file, like {wall: Long wall, file: shoal.png}"
	rectangle := []string{"left", "bottom", "width", "height"}
	m, ok := v.Map(append([]string{"wall", "file", "white", "black", "beside"}, rectangle...)...)
	if !ok {
		return nil, false
	}
	d := density.Map{Faces: map[space.Frame]bool{}}
	factor := func(key string, usual float64) float64 {
		if n, ok := m.Get(key).Number("a density", 0, density.MaxStrength); ok {
			return n
		}
		return usual
	}
	d.White, d.Black, d.Beside = factor("white", 0), factor("black", 1), factor("beside", 1)
	if d.White == d.Black {
		m.Fault("is as dense where it is white as where it is black", "give white and black two densities, like 0 and 1")
	}
	i, _, known := s.wallNamed(m.Get("wall").Need(fix))
	part, placed := s.rectangle(m, rectangle)
	d.Picture, ok = s.picture(m.Get("file").Need(fix))
	if !known || !placed || s.file.Faulty("room") {
		return nil, false
	}
	site, err := s.site(true)
	if err != nil {
		m.Fault(err.Error(), "correct the room")
		return nil, false
	}
	for _, f := range site.Faces {
		switch {
		case f.Wall != i || f.IsBack():
			continue
		case f.IsWall():
			d.Wall, d.Over = f.Frame, f.Whole.Bounds()
		}
		d.Faces[f.Frame] = true
	}
	if part != nil {
		if !d.Over.Overlaps(*part) {
			m.Fault("lies beside the wall", "move it, or correct the wall")
			return nil, false
		}
		d.Over = *part
	}
	return d, ok
}

// rectangle reads an upright rectangle; nil where the plan gives none.
func (s *stage) rectangle(m yamlfile.Map, keys []string) (*plane.Rect, bool) {
	given := false
	for _, key := range keys {
		given = given || m.Get(key).Given()
	}
	if !given {
		return nil, true
	}
	const fix = "give left, bottom, width and height, or none of them for the whole wall"
	for _, key := range keys {
		m.Get(key).Need(fix)
	}
	low := plane.Point{
		X: s.length(m.Get("left"), "a place", -MaxLength, MaxLength, 0), Y: s.length(m.Get("bottom"), "a place", -MaxLength, MaxLength, 0),
	}
	w, h := s.size(m.Get("width"), "a width"), s.size(m.Get("height"), "a height")
	return &plane.Rect{Min: low, Max: low.Add(plane.Point{X: w, Y: h})}, w > 0 && h > 0
}

// picture reads the file beside the plan that v names.
func (s *stage) picture(v yamlfile.Value) (density.Picture, bool) {
	name, ok := v.Text(maxTitle)
	if !ok {
		return density.Picture{}, false
	}
	data, err := s.beside(name, picture.MaxBytes)
	var p density.Picture
	if err == nil {
		p, err = picture.Read(data)
	}
	var fault *picture.Error
	switch {
	case err == nil:
		return p, true
	case errors.As(err, &fault):
		v.Fault(yamlfile.Quote(name)+" "+fault.Wrong, fault.Fix)
	default:
		v.Fault(yamlfile.Quote(name)+" cannot be read", "name a file that you may read, in the folder of the plan or in one within it")
	}
	return density.Picture{}, false
}

// beside returns what is in the file of that name in the folder of the plan, and a byte more of one
// that has more than most.
func (r *reader) beside(name string, most int64) ([]byte, error) {
	const within = "put the file into the folder of the plan, or into one within it, and write it with / between them, like maps/shoal.png"
	slashed := path.Clean(name)
	switch {
	case r.files == nil:
		return nil, &picture.Error{Wrong: "is sought beside the plan, and the plan was not read from a folder", Fix: "save the plan as a file, and the drawing beside it"}
	case !fs.ValidPath(slashed) || strings.Contains(name, `\`) || strings.Contains(name, ":"):
		return nil, &picture.Error{Wrong: "leads out of the folder of the plan", Fix: within}
	}
	info, err := fs.Stat(r.files, slashed)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, &picture.Error{Wrong: "is not there", Fix: within}
	case err == nil && !info.Mode().IsRegular():
		return nil, &picture.Error{Wrong: "is not a file", Fix: "name a PNG, JPEG or SVG file"}
	}
	var data []byte
	if err == nil {
		var file fs.File
		if file, err = r.files.Open(slashed); err == nil {
			defer file.Close()
			data, err = io.ReadAll(io.LimitReader(file, most+1))
		}
	}
	return data, err
}
