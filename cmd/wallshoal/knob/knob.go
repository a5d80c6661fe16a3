// Package knob says what can be turned in a plan: which values of its text make the work another,
// what they are, how far they usefully go, and which change of the text another value is.
//
// A knob is called what a fault calls its field, like composition.spacing.
package knob

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/cmd/wallshoal/yamledit"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// A Type is what kind of value a knob has.
type Type string

// The types of knobs. Whole, Number, Length, Degrees and Percent are numbers, a length in the units of
// the plan; a Place lies on a face, a Path is several that are joined.
const (
	Whole   Type = "whole"
	Number  Type = "number"
	Length  Type = "length"
	Degrees Type = "degrees"
	Percent Type = "percent"
	Choice  Type = "choice"
	Switch  Type = "switch"
	Place   Type = "place"
	Path    Type = "path"
)

// A Knob is one value of a plan that can be turned.
type Knob struct {
	ID     string
	Group  string // what of the work it changes
	Label  string
	Type   Type
	Value  string  // as the plan writes it; of a switch, true or false; the usual one where none is given
	Number float64 // the value of a number; a length in units of the plan
	Known  bool    // Number is the value; false of a text that is not understood
	Min    float64 // from here
	Max    float64 // to here a slider goes; what is written can be beyond
	Step   float64 // by so much
	Unit   string  // what a bare number is of
	Values []string
	Usual  string // what holds where the plan says nothing, as Value; empty if it must, and of places
	Given  bool   // the plan says it
	Needed bool   // and must: there is no usual value
	Help   string
	Spots  []Spot // of a Place one, of a Path several
}

// A Spot is a place on a face.
type Spot struct {
	Face int // index into the faces of the site
	At   plane.Point
}

// Of returns the knobs of a job, whose plan has that text, in the order in which to show them.
func Of(j job.Job, text []byte) []Knob {
	b := &board{job: j, units: j.Plan.Units, root: rootOf(text)}
	b.unit, _ = measure.Parse("1", b.units)
	b.count()
	b.closeness()
	b.density()
	b.flow()
	b.headings()
	b.mixing()
	b.walls()
	b.print()
	return b.knobs
}

// rootOf returns the map that a text holds; nil where it holds none.
func rootOf(text []byte) *yaml.Node {
	var doc yaml.Node
	if err := yaml.Unmarshal(bytes.TrimPrefix(text, []byte("\ufeff")), &doc); err != nil || len(doc.Content) == 0 {
		return nil
	}
	return doc.Content[0]
}

// A board gathers knobs.
type board struct {
	job   job.Job
	units measure.Unit
	unit  float64 // mm of a bare number
	root  *yaml.Node
	group string
	knobs []Knob
}

// node returns the value of a field, given as faults write it; nil where there is none.
func (b *board) node(field string) *yaml.Node {
	steps, err := yamledit.Path(field)
	if err != nil {
		return nil
	}
	n := b.root
	for _, s := range steps {
		if n = inside(n, s); n == nil {
			return nil
		}
	}
	return n
}

// inside returns the value that a step leads to; nil where there is none.
func inside(n *yaml.Node, s yamledit.Step) *yaml.Node {
	switch {
	case n == nil:
	case n.Kind == yaml.MappingNode && s.Key != "":
		for i := 0; i+1 < len(n.Content); i += 2 {
			if n.Content[i].Value == s.Key {
				return n.Content[i+1]
			}
		}
	case n.Kind == yaml.SequenceNode && s.Key == "" && s.Index < len(n.Content):
		return n.Content[s.Index]
	}
	return nil
}

// items returns the fields of a list; of a map that stands for a list of one, the map's.
func (b *board) items(field string) []string {
	n := b.node(field)
	switch {
	case n == nil:
		return nil
	case n.Kind == yaml.MappingNode:
		return []string{field}
	}
	fields := make([]string, len(n.Content))
	for i := range n.Content {
		fields[i] = fmt.Sprintf("%s[%d]", field, i)
	}
	return fields
}

// add adds a knob with the value that the plan gives its field, or the usual one. A value that is no
// single one is no knob.
func (b *board) add(k Knob, usual string) {
	k.Group = b.group
	k.Needed = usual == ""
	k.Value, k.Usual = usual, usual
	if n := b.node(k.ID); n != nil {
		if n.Kind != yaml.ScalarNode {
			return
		}
		k.Value, k.Given = n.Value, true
	}
	k.Number, k.Known = b.number(k.Type, k.Value)
	if k.Known {
		k.Min, k.Max = min(k.Min, k.Number), max(k.Max, k.Number)
	}
	if k.Type == Length {
		k.Unit = string(b.units)
	}
	b.knobs = append(b.knobs, k)
}

// number returns the number that a text stands for.
func (b *board) number(t Type, text string) (float64, bool) {
	switch t {
	case Length:
		mm, err := measure.Parse(text, b.units)
		return round(mm / b.unit), err == nil
	case Percent:
		figure, found := strings.CutSuffix(strings.TrimSpace(text), "%")
		v, err := strconv.ParseFloat(strings.TrimSpace(figure), 64)
		if !found {
			v *= 100
		}
		return round(v), err == nil
	case Whole, Number, Degrees:
		v, err := strconv.ParseFloat(strings.ReplaceAll(text, "_", ""), 64)
		return v, err == nil && !math.IsInf(v, 0) && !math.IsNaN(v)
	}
	return 0, false
}

func round(v float64) float64 { return math.Round(v*1e4) / 1e4 }

// length returns a knob of a length, whose slider goes from and to so many mm.
func (b *board) length(field, label string, from, to float64, help string) Knob {
	step := 1.0
	if b.units.Imperial() {
		step = 25.4 / 8
	}
	if to > 2000 {
		step *= 10
	}
	from, to = math.Ceil(from/step-1e-9)*step, math.Floor(to/step+1e-9)*step // its ends are such as one would write
	return Knob{ID: field, Label: label, Type: Length, Min: round(from / b.unit), Max: round(to / b.unit), Step: round(step / b.unit), Help: help}
}

// show writes a length in mm as the plan would write it bare.
func (b *board) show(mm float64) string { return strconv.FormatFloat(round(mm/b.unit), 'f', -1, 64) }
