package main

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"wallshoal/cmd/wallshoal/hanging"
	"wallshoal/cmd/wallshoal/job"
	"wallshoal/cmd/wallshoal/layoutfile"
	"wallshoal/cmd/wallshoal/progress"
	"wallshoal/export/number"
	"wallshoal/scatter"
	"wallshoal/wall"
)

// A startFlags says what of a layout stays where it is when the plan is laid anew.
type startFlags struct {
	from   string   // the layout's file
	keep   []string // walls and faces of which every piece stays
	only   []string // walls and faces off which every piece stays, and where alone new ones go
	afresh bool     // nothing stays, locked or not
	mend   bool     // every piece stays that may
	hung   string   // the progress file: what hangs stays
}

// given reports whether something is to stay that only a layout can tell.
func (f startFlags) given() bool { return f.from != "" || len(f.keep) > 0 || len(f.only) > 0 || f.mend }

// check complains of flags that contradict one another.
func (f startFlags) check(output string, replace bool) error {
	switch {
	case f.afresh && (f.given() || f.hung != ""):
		return usageError{"--afresh keeps nothing", "leave it out, or leave out --from, --keep, --only, --mend and --progress"}
	case f.mend && len(f.keep)+len(f.only) > 0:
		return usageError{"--mend keeps every piece that may stay, on all walls", "leave out --keep and --only"}
	case len(f.keep) > 0 && len(f.only) > 0:
		return usageError{"--keep and --only both say what stays", "give one of them"}
	case f.from == "" && f.given() && !(replace && output != ""):
		return usageError{"there is no layout of which something could stay", "name its file with --from, or write over it with -o and --replace"}
	}
	return nil
}

// A start is what a job's layout begins from.
type start struct {
	scatter.Start
	seed uint64 // to lay with: that of the layout where some of it stays
	hang int    // how many of the kept pieces hang

	mend  bool
	from  []scatter.Piece // the pieces to mend
	fixed map[int]bool    // of them, those that stay in any case, by ID
}

// start returns what the job's layout begins from: the layout named, or the one that is to be written
// over, or what hangs, or nothing.
func (d desk) start(j job.Job, f startFlags, output string, replace bool) (start, error) {
	record, err := d.record(f.hung)
	if err != nil {
		return start{}, err
	}
	path := f.from
	if path == "" && replace && !f.afresh {
		path = output
	}
	layout, err := d.startLayout(j, f, path)
	if err != nil {
		return start{}, err
	}
	hung, err := hanging.Put(j, layout.Pieces, record)
	if err != nil {
		return start{}, err
	}
	if n := len(hung.Unknown); n > 0 {
		d.say(fmt.Sprintf("%s by a layout that was not given, and %s does not say where", hangWord(n), f.hung))
		d.hint("lay from the layout by which they hang: name it with --from")
	}
	layout.Pieces = hung.Pieces
	s := start{seed: j.Plan.Seed, hang: len(hung.Held), mend: f.mend}
	if f.mend {
		s.seed, s.from, s.fixed = layout.Seed, layout.Pieces, hung.Held
		for _, p := range layout.Pieces {
			s.fixed[p.ID] = s.fixed[p.ID] || p.Locked
		}
		return s, nil
	}
	if s.Start, err = begin(j, layout, f, hung.Held); err == nil && len(s.Kept) > 0 && path != "" {
		s.seed = layout.Seed
	}
	return s, err
}

func hangWord(n int) string {
	if n == 1 {
		return "1 piece hangs"
	}
	return counted(n, "piece") + " hang"
}

// record reads a progress file; nothing hangs where none is named.
func (d desk) record(path string) (progress.Record, error) {
	if path == "" {
		return progress.Record{}, nil
	}
	data, err := d.read(path, progress.MaxBytes)
	if err != nil {
		return progress.Record{}, err
	}
	record, err := progress.Read(path, data)
	if err == nil && record.Lost > 0 {
		d.say(fmt.Sprintf("%s of %s could not be read, and what they say is not known", counted(record.Lost, "line"), path))
	}
	return record, err
}

// startLayout reads the layout at path to begin from; it is empty where there is none.
func (d desk) startLayout(j job.Job, f startFlags, path string) (scatter.Layout, error) {
	if path == "" {
		return scatter.Layout{Seed: j.Plan.Seed}, nil
	}
	data, err := d.read(path, layoutfile.MaxBytes)
	if f.from == "" && len(f.keep)+len(f.only) == 0 && !f.mend && errors.Is(err, fs.ErrNotExist) {
		return scatter.Layout{Seed: j.Plan.Seed}, nil
	}
	if err != nil {
		return scatter.Layout{}, err
	}
	if f.mend || f.hung != "" {
		layout, gone, err := layoutfile.ReadOlder(path, data, j.Site, j.Plan.Kinds)
		if len(gone) > 0 {
			slices.Sort(gone)
			d.say(fmt.Sprintf("the plan has no wall or no kind any more for %s of %s: %s", counted(len(gone), "piece"), path, number.Runs(gone)))
		}
		return layout, err
	}
	layout, _, err := layoutfile.Read(path, data, j.Site, j.Plan.Kinds)
	if err != nil && f.from == "" {
		d.hint("the layout may hold pieces that are locked; to write over it all the same, add --afresh")
	}
	return layout, err
}

// begin returns what of the layout stays, that with IDs in held among it.
func begin(j job.Job, layout scatter.Layout, f startFlags, held map[int]bool) (scatter.Start, error) {
	var s scatter.Start
	keep, err := facesOf(j, "--keep", f.keep)
	if err != nil {
		return s, err
	}
	if s.Faces, err = facesOf(j, "--only", f.only); err != nil {
		return s, err
	}
	for _, p := range layout.Pieces {
		if p.Locked || held[p.ID] || slices.Contains(keep, p.Face) || s.Faces != nil && !slices.Contains(s.Faces, p.Face) {
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
func (d desk) tellLaid(j job.Job, start start, layout scatter.Layout) error {
	if start.mend {
		start.Kept = d.tellMended(start.from, layout.Pieces)
	}
	if err := d.tellKept(j, start, layout); err != nil {
		return err
	}
	d.tellSeated(j, layout)
	return nil
}

// tellKept tells what stayed, and what of it is not as the plan asks: it was not moved.
func (d desk) tellKept(j job.Job, start start, layout scatter.Layout) error {
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
	hang := ""
	if start.hang > 0 {
		hang = fmt.Sprintf(", %d hanging", start.hang)
	}
	fmt.Fprintf(d.errs, "kept %s as laid, %d locked%s\n", counted(len(start.Kept), "piece"), locked, hang)
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

// tellMended tells which pieces were laid anew, and returns the others.
func (d desk) tellMended(before, after []scatter.Piece) []scatter.Piece {
	was := map[int]scatter.Piece{}
	for _, p := range before {
		was[p.ID] = p
	}
	var kept []scatter.Piece
	var anew []int
	for _, p := range after {
		if was[p.ID] == p {
			kept = append(kept, p)
		} else {
			anew = append(anew, p.ID)
		}
	}
	if len(anew) > 0 {
		fmt.Fprintf(d.errs, "laid %s anew: %s\n", counted(len(anew), "piece"), number.Runs(anew))
	} else if len(after) == len(before) {
		fmt.Fprintln(d.errs, "there is nothing to mend")
	}
	if len(after) < len(before) {
		fmt.Fprintf(d.errs, "left out %s\n", counted(len(before)-len(after), "piece"))
	}
	return kept
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
