package main

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/cmd/wallshoal/press"
	"wallshoal/export/caution"
	"wallshoal/export/folder"
	"wallshoal/export/holemap"
	"wallshoal/export/tiling"
	"wallshoal/scatter"
)

// A pack is what was written of a plan.
type pack struct {
	work   holemap.Work
	paper  string
	sheets int      // of the hole map
	names  []string // of its files
}

// finish draws and lists the layout, and writes all of it into dir at once. A file there may have
// become one of those taken: the layout was read from it.
func (d desk) finish(ctx context.Context, j job.Job, layout scatter.Layout, dir string, taken ...[]byte) (pack, error) {
	p, err := d.press(ctx, j, layout)
	if err != nil {
		return pack{}, err
	}
	if err := p.Beside(ctx, j, d.now()); err != nil {
		return pack{}, err
	}
	if p.Made.Unscheduled != nil {
		d.say("the pack is without days of work: " + p.Made.Unscheduled.Error())
	}
	list := p.Files(ctx)
	if err := folder.Write(ctx, dir, list, taken...); err != nil {
		return pack{}, err
	}
	for _, warning := range p.Warnings {
		d.say(warning)
	}
	d.sayUnmet(p.Work)
	written := pack{work: p.Work, paper: p.Print.Paper.Name, sheets: p.Pages[press.HoleMap]}
	for _, f := range list {
		written.names = append(written.names, f.Name)
	}
	return written, nil
}

// press returns the press for all files of a layout.
func (d desk) press(ctx context.Context, j job.Job, layout scatter.Layout) (*press.Press, error) {
	w, err := j.Work(layout)
	if err != nil {
		return nil, err
	}
	cut, err := tiling.CutOf(w, j.Plan.Print)
	if err != nil {
		return nil, err
	}
	return press.New(ctx, j, cut, d.now(), d.meter)
}

// sayUnmet says which acknowledgements are of cautions that are not there.
func (d desk) sayUnmet(w holemap.Work) {
	for _, a := range w.Map.Unmet {
		d.say("to look at: " + a.Missing())
	}
}

// counts says how much there is to hang.
func (p pack) counts() string {
	return fmt.Sprintf("%s, %s, fingerprint %s",
		counted(len(p.work.Layout.Pieces), "piece"), counted(len(p.work.Map.Holes), "hole"), p.work.Map.Fingerprint)
}

// list returns the names of the files in one line.
func (p pack) list() string { return strings.Join(p.names, ", ") }

// tellWhatIsNext says what to read and to measure before the first hole.
func (d desk) tellWhatIsNext(p pack, dir string) {
	if n := pressing(p.work.Map.Cautions); n > 0 {
		fmt.Fprintf(d.out, "%s to settle before the first hole: read %s\n", counted(n, "caution"), filepath.Join(dir, "scope.md"))
	}
	fmt.Fprintf(d.out, "print the %s of hole-map.pdf on %s at 100 %%, and measure its check bars before you drill\n", counted(p.sheets, "sheet"), p.paper)
}

// pressing returns how many of the cautions have to be settled before the first hole: nobody has decided
// about them yet. What is the same on several walls counts once, as scope.md lists it.
func pressing(all []caution.Caution) int {
	type same struct{ code, text, source string }
	met := map[same]bool{}
	for _, c := range all {
		if c.Severity != caution.Note && c.Acknowledged == nil {
			met[same{c.Code, c.Text, c.Source}] = true
		}
	}
	return len(met)
}
