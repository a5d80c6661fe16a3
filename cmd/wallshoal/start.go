package main

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/cmd/wallshoal/layoutfile"
	"wallshoal/scatter"
	"wallshoal/wall"
)

// A startFlags says what of a layout stays where it is when the plan is laid anew.
type startFlags struct {
	from   string   // the layout's file
	keep   []string // walls and faces of which every piece stays
	only   []string // walls and faces off which every piece stays, and where alone new ones go
	afresh bool     // nothing stays, locked or not
}

// given reports whether something is to stay that only a layout can tell.
func (f startFlags) given() bool { return f.from != "" || len(f.keep) > 0 || len(f.only) > 0 }

// check complains of flags that contradict one another.
func (f startFlags) check(output string, replace bool) error {
	switch {
	case f.afresh && f.given():
		return usageError{"--afresh keeps nothing", "leave it out, or leave out --from, --keep and --only"}
	case len(f.keep) > 0 && len(f.only) > 0:
		return usageError{"--keep and --only both say what stays", "give one of them"}
	case f.from == "" && f.given() && !(replace && output != ""):
		return usageError{"there is no layout of which something could stay", "name its file with --from, or write over it with -o and --replace"}
	}
	return nil
}

// start returns what the job's layout begins from: the layout named, or the one that is to be written
// over, or nothing; and the seed to lay with, that of the layout where some of it stays.
func (d desk) start(j job.Job, f startFlags, output string, replace bool) (scatter.Start, uint64, error) {
	path := f.from
	if path == "" && replace && !f.afresh {
		path = output
	}
	if path == "" {
		return scatter.Start{}, j.Plan.Seed, nil
	}
	data, err := d.read(path, layoutfile.MaxBytes)
	if f.from == "" && len(f.keep)+len(f.only) == 0 && errors.Is(err, fs.ErrNotExist) {
		return scatter.Start{}, j.Plan.Seed, nil
	}
	if err != nil {
		return scatter.Start{}, 0, err
	}
	layout, _, err := layoutfile.Read(path, data, j.Site, j.Plan.Kinds)
	if err != nil {
		if f.from == "" {
			d.hint("the layout may hold pieces that are locked; to write over it all the same, add --afresh")
		}
		return scatter.Start{}, 0, err
	}
	start, err := begin(j, layout, f)
	if err != nil || len(start.Kept) == 0 {
		return start, j.Plan.Seed, err
	}
	return start, layout.Seed, nil
}

// begin returns what of the layout stays.
func begin(j job.Job, layout scatter.Layout, f startFlags) (scatter.Start, error) {
	var s scatter.Start
	keep, err := facesOf(j, "--keep", f.keep)
	if err != nil {
		return s, err
	}
	if s.Faces, err = facesOf(j, "--only", f.only); err != nil {
		return s, err
	}
	for _, p := range layout.Pieces {
		if p.Locked || slices.Contains(keep, p.Face) || s.Faces != nil && !slices.Contains(s.Faces, p.Face) {
			s.Kept = append(s.Kept, p)
		}
	}
	if keep != nil {
		for i, face := range j.Site.Faces {
			if face.Used && !slices.Contains(keep, i) {
				s.Faces = append(s.Faces, i)
			}
		}
	}
	return s, nil
}

// facesOf returns the faces that are named: a wall with all its faces, or one face as the sheets
// call it. It is nil for no names.
func facesOf(j job.Job, flag string, names []string) ([]int, error) {
	var faces []int
	for _, name := range names {
		before := len(faces)
		for i, f := range j.Site.Faces {
			if wall.FoldName(j.Site.Room.Walls[f.Wall].Name) == wall.FoldName(name) || wall.FoldName(j.Site.Title(i)) == wall.FoldName(name) {
				faces = append(faces, i)
			}
		}
		if len(faces) == before {
			return nil, fmt.Errorf("%s: %q is no wall or face of the plan; name one of: %s", flag, name, strings.Join(surfaces(j), " | "))
		}
	}
	return faces, nil
}

// surfaces returns what walls and faces that take pieces are called.
func surfaces(j job.Job) []string {
	var names []string
	for i, f := range j.Site.Faces {
		if f.Used {
			names = append(names, j.Site.Title(i))
		}
	}
	return names
}

// tellLaid tells what stayed and what gave way.
func (d desk) tellLaid(j job.Job, start scatter.Start, layout scatter.Layout) error {
	if err := d.tellKept(j, start, layout); err != nil {
		return err
	}
	d.tellSeated(j, layout)
	return nil
}

// tellKept tells what stayed, and what of it is not as the plan asks: it was not moved.
func (d desk) tellKept(j job.Job, start scatter.Start, layout scatter.Layout) error {
	if len(start.Kept) == 0 {
		return nil
	}
	locked := 0
	kept := map[int]bool{}
	for _, p := range start.Kept {
		kept[p.ID] = true
		if p.Locked {
			locked++
		}
	}
	fmt.Fprintf(d.errs, "kept %s as laid, %d locked\n", counted(len(start.Kept), "piece"), locked)
	found, err := scatter.Inspect(j.Site, j.Plan.Kinds, j.Plan.Composition, layout, j.Plan.Units)
	if err != nil {
		return err
	}
	refused := false
	for _, f := range found {
		if kept[f.Piece] {
			fmt.Fprintf(d.errs, "note: piece %d: %s; it was kept and not moved\n", f.Piece, f.Wrong)
			refused = refused || f.Flaw == scatter.BadHole
		} else if f.Piece == 0 {
			d.say(f.Wrong)
		}
	}
	if refused {
		d.say("a hole where none may be drilled: pack will refuse this layout")
		d.hint("move or turn the piece, or unlock it and lay again")
	}
	return nil
}

// tellSeated tells which pieces stand otherwise than they were thrown.
func (d desk) tellSeated(j job.Job, layout scatter.Layout) {
	if len(layout.Seated) == 0 {
		return
	}
	byID := map[int]scatter.Piece{}
	for _, p := range layout.Pieces {
		byID[p.ID] = p
	}
	fmt.Fprintf(d.errs, "%s gave way a little, so that every hole can be drilled where it falls\n", counted(len(layout.Seated), "piece"))
	for _, s := range layout.Seated[:min(len(layout.Seated), mostTold)] {
		fmt.Fprintln(d.errs, "note: "+s.Tell(j.Site, j.Plan.Kinds, byID[s.ID], j.Plan.Units))
	}
	if more := len(layout.Seated) - mostTold; more > 0 {
		fmt.Fprintf(d.errs, "note: %d more like these; scope.md of a pack laid with this seed lists all\n", more)
	}
}
