package main

import (
	"fmt"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/cmd/wallshoal/layoutfile"
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter"
)

// mostTold is how many pieces are told of that do not lie as the plan asks, before the rest are
// counted.
const mostTold = 20

// inspect compares a layout that was read from the file at path with the plan. Holes that cannot be
// drilled are faults of the file. What else is not as the plan asks is told, and drawn as it is:
// whoever moved a piece may have meant it.
func (d desk) inspect(j job.Job, path string, layout scatter.Layout, lines layoutfile.Lines) error {
	found, err := scatter.Inspect(j.Site, j.Plan.Kinds, j.Plan.Composition, layout, j.Plan.Units)
	if err != nil {
		return err
	}
	var faults, remarks yamlfile.Faults
	var counts []string
	for _, f := range found {
		fault := yamlfile.Fault{File: path, Line: lines[f.Piece], Field: fmt.Sprintf("piece %d", f.Piece), Wrong: f.Wrong, Fix: f.Fix}
		if f.Other != 0 {
			fault.Wrong += fmt.Sprintf(" (line %d)", lines[f.Other])
		}
		switch f.Flaw {
		case scatter.BadHole:
			faults = append(faults, fault)
		case scatter.Miscount:
			counts = append(counts, f.Wrong)
		default:
			remarks = append(remarks, fault)
		}
	}
	d.remark(path, remarks, counts)
	switch {
	case len(faults) > 0:
		return faults.Listed()
	case len(remarks) > 0:
		d.say("not all of " + path + " lies as the plan asks; pieces are drawn where it has them")
	}
	return nil
}

// remark tells what in a layout is not as the plan asks.
func (d desk) remark(path string, remarks yamlfile.Faults, counts []string) {
	for _, r := range remarks[:min(len(remarks), mostTold)] {
		fmt.Fprintln(d.errs, "note: "+r.Error())
	}
	if more := len(remarks) - mostTold; more > 0 {
		fmt.Fprintf(d.errs, "note: %s: %d more like these\n", path, more)
	}
	for _, c := range counts {
		d.say(path + ": " + c)
	}
}
