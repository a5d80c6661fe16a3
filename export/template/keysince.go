package template

import (
	"fmt"
	"slices"
	"strings"

	"wallshoal/export/drafting"
	"wallshoal/export/tiling"
)

// sinceBlock says which sheets are printed, which are thrown away, and which stay.
func (k *keyPage) sinceBlock() drafting.Block {
	if k.faces[0].Since == nil {
		return drafting.Block{}
	}
	var all tiling.Change
	var added []string
	for _, f := range k.faces {
		all.Printed = append(all.Printed, f.Since.Printed...)
		all.Thrown = append(all.Thrown, f.Since.Thrown...)
		all.Staying = append(all.Staying, f.Since.Staying...)
		for _, t := range f.Tiles {
			if t.Added {
				added = append(added, t.Name)
			}
		}
	}
	var items []drafting.Item
	add := func(lead, text string, marked []tiling.Marked) {
		if len(marked) > 0 {
			items = append(items, drafting.Item{Lead: lead, Text: text + listed(marked) + "."})
		}
	}
	add("", "Throw away, before anything is hung: ", all.Thrown)
	add("", fmt.Sprintf("New, with the fingerprint %s: ", k.first().Work.Map.Fingerprint), all.Printed)
	for len(all.Staying) > 0 {
		print := all.Staying[0].Fingerprint
		of := func(m tiling.Marked) bool { return m.Fingerprint == print }
		add("", fmt.Sprintf("These stay, with the fingerprint %s: ", print), slices.DeleteFunc(slices.Clone(all.Staying), func(m tiling.Marked) bool { return !of(m) }))
		all.Staying = slices.DeleteFunc(all.Staying, of)
	}
	if len(added) > 0 {
		items = append(items, drafting.Item{Lead: "", Text: strings.Join(added, ", ") + ": measure it, cut it along its frame on all four sides, and lay it over the others, last. It shows every hole that it covers."})
	}
	return drafting.Block{Heading: "Which sheets belong on this wall", Items: append(items, drafting.Item{Lead: "!", Text: "Only these do, by name and mark. A sheet that is not in these lists, whatever its fingerprint, is of another layout."})}
}

// listed lists sheets by name and mark.
func listed(all []tiling.Marked) string {
	var out []string
	for _, m := range all {
		out = append(out, m.String())
	}
	return strings.Join(out, ", ")
}
