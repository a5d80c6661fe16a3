package knob

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/cmd/wallshoal/yamledit"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// point returns a place that is written [x, y], in mm.
func (b *board) point(n *yaml.Node) (plane.Point, bool) {
	if n == nil || n.Kind != yaml.SequenceNode || len(n.Content) != 2 {
		return plane.Point{}, false
	}
	x, errX := measure.Parse(n.Content[0].Value, b.units)
	y, errY := measure.Parse(n.Content[1].Value, b.units)
	return plane.Point{X: x, Y: y}, errX == nil && errY == nil
}

// A Setting is a new value of a knob: as the plan writes it; for places "FACE X Y", the index of a face
// and mm on it, joined by ";". An empty value takes it out of the plan, for the usual one to hold.
type Setting struct {
	Knob  string
	Value string
}

// Change returns the text of the job's plan with settings made in it, and all else as it was. What a value
// comes to is for the reader of plans to say. The error is a wall.Problem, or several joined.
func Change(j job.Job, text []byte, settings []Setting) ([]byte, error) {
	knobs := Of(j, text)
	var changes []yamledit.Change
	for _, s := range settings {
		i := slices.IndexFunc(knobs, func(k Knob) bool { return k.ID == s.Knob })
		if i < 0 {
			return nil, wall.Problem{Field: s.Knob, Wrong: "is no knob of this plan", Fix: "read the plan again"}
		}
		made, err := knobs[i].change(j, strings.TrimSpace(s.Value))
		if err != nil {
			return nil, err
		}
		changes = append(changes, made...)
	}
	return yamledit.Apply(text, changes)
}

// change returns what changes of the text another value of k is.
func (k Knob) change(j job.Job, value string) ([]yamledit.Change, error) {
	path, err := yamledit.Path(k.ID)
	if err != nil {
		return nil, err
	}
	switch {
	case value == "" && !k.Given:
		return nil, nil
	case value == "" && k.Needed:
		return nil, wall.Problem{Field: k.ID, Wrong: "is needed", Fix: "write a value"}
	case value == "" && (k.Type == Place || k.Type == Path || k.ID == clumpsField+".size"):
		return []yamledit.Change{{Path: path[:len(path)-1], Remove: true}}, nil // with all that is said of it
	case value == "":
		return []yamledit.Change{{Path: path, Remove: true}}, nil
	}
	switch k.Type {
	case Place, Path:
		return k.moved(j, path, value)
	case Switch:
		on, err := strconv.ParseBool(value)
		if err != nil {
			return nil, wall.Problem{Field: k.ID, Wrong: fmt.Sprintf("%q is neither on nor off", value), Fix: "write true or false"}
		}
		return []yamledit.Change{{Path: path, Value: on}}, nil
	case Choice:
		if value == families && k.ID == mixField {
			return []yamledit.Change{{Path: path, Value: yamledit.Map{{Key: families, Value: 5}}}}, nil
		}
	}
	return []yamledit.Change{{Path: path, Value: value}}, nil
}

// moved returns the changes that put places elsewhere.
func (k Knob) moved(j job.Job, path []yamledit.Step, value string) ([]yamledit.Change, error) {
	spots, err := k.read(j, value)
	if err != nil {
		return nil, err
	}
	b := board{units: j.Plan.Units}
	b.unit, _ = measure.Parse("1", b.units)
	face := j.Site.Faces[spots[0].Face]
	on := yamledit.Map{{Key: "wall", Value: j.Site.Room.Walls[face.Wall].Name}}
	if face.Name != wall.WallFace {
		on = append(on, yamledit.Entry{Key: "face", Value: face.Name})
	}
	var key string
	var where yamledit.List
	if k.Type == Place {
		key, where = "at", b.pair(spots[0].At)
	} else {
		key = "points"
		for _, s := range spots {
			where = append(where, b.pair(s.At))
		}
	}
	if !k.Given {
		place := append(on, yamledit.Entry{Key: key, Value: where})
		return k.begun(path, place), nil
	}
	at := func(key string) []yamledit.Step { return append(slices.Clone(path), yamledit.Key(key)) }
	var changes []yamledit.Change
	if spots[0].Face != k.Spots[0].Face {
		changes = append(changes, yamledit.Change{Path: at("wall"), Value: on[0].Value})
		before := j.Site.Faces[k.Spots[0].Face].Name
		switch {
		case len(on) > 1:
			changes = append(changes, yamledit.Change{Path: at("face"), Value: on[1].Value})
		case before != wall.WallFace:
			changes = append(changes, yamledit.Change{Path: at("face"), Remove: true})
		}
	}
	return append(changes, yamledit.Change{Path: at(key), Value: where}), nil
}

// begun returns the changes that add what a place lies in, where the plan has none of it yet.
func (k Knob) begun(path []yamledit.Step, place yamledit.Map) []yamledit.Change {
	last := path[len(path)-1].Key
	entry := yamledit.Map{{Key: last, Value: place}}
	if last == "round" {
		entry = append(entry, yamledit.Entry{Key: "strength", Value: 4})
		return []yamledit.Change{{Path: path[:len(path)-1], Value: entry}}
	}
	return []yamledit.Change{{Path: path[:len(path)-2], Value: yamledit.List{entry}}}
}

// pair writes a place in units of the plan: to the millimetre, or to an eighth of an inch.
func (b *board) pair(p plane.Point) yamledit.List {
	step := 1.0
	if b.units.Imperial() {
		step = 25.4 / 8
	}
	write := func(v float64) string { return b.show(math.Round(v/step) * step) }
	return yamledit.List{write(p.X), write(p.Y)}
}

// read reads places.
func (k Knob) read(j job.Job, value string) ([]Spot, error) {
	wrong := wall.Problem{Field: k.ID, Wrong: fmt.Sprintf("%q is no place", value), Fix: "write the number of a face and two lengths in mm, like 0 1200 1500"}
	var spots []Spot
	for _, part := range strings.Split(value, ";") {
		fields := strings.Fields(part)
		if len(fields) != 3 {
			return nil, wrong
		}
		face, errF := strconv.Atoi(fields[0])
		x, errX := strconv.ParseFloat(fields[1], 64)
		y, errY := strconv.ParseFloat(fields[2], 64)
		if errF != nil || errX != nil || errY != nil || face < 0 || face >= len(j.Site.Faces) || !(math.Abs(x) < 1e6 && math.Abs(y) < 1e6) {
			return nil, wrong
		}
		if len(spots) > 0 && spots[0].Face != face {
			return nil, wall.Problem{Field: k.ID, Wrong: "lies on more than one face", Fix: "leave a path on its wall"}
		}
		spots = append(spots, Spot{face, plane.Point{X: x, Y: y}})
	}
	if k.Type == Place && len(spots) > 1 || k.Type == Path && len(spots) < 2 {
		return nil, wrong
	}
	return spots, nil
}
