package template

import (
	"slices"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/wall/plane"
)

// builtSigns explains the lines of studs and joints, where a face of the page has any.
func (k *keyPage) builtSigns() []drafting.Row {
	var studs, joints []string
	for _, f := range k.faces {
		if s, known := f.Face.Studs(); known {
			word, _ := f.StudWord()
			studs = append(studs, drafting.Joined(": ", "middle of a "+word+", "+f.Length(s.Width)+" wide", elevation.HoleRuleWords(s.Holes, elevation.WordOf(f.Wall)+"s")))
		}
		if j, known := f.Face.Joints(); known {
			joints = append(joints, drafting.Joined(": ", "middle of a joint, "+f.Length(j.Width)+" wide", elevation.HoleRuleWords(j.Holes, "joints")))
		}
	}
	slices.Sort(studs)
	slices.Sort(joints)
	var rows []drafting.Row
	line := func(s draw.Stroke) func(p drafting.Pen, box plane.Rect) {
		return func(p drafting.Pen, box plane.Rect) {
			p.Segment(box.Min.X, box.Centre().Y, box.Max.X, box.Centre().Y, s)
		}
	}
	for _, text := range slices.Compact(studs) {
		rows = append(rows, drafting.Row{Sample: line(elevation.StudLine), Lead: "", Text: text, Mark: false})
	}
	for _, text := range slices.Compact(joints) {
		rows = append(rows, drafting.Row{Sample: line(elevation.JointLine), Lead: "", Text: text, Mark: false})
	}
	return rows
}
