package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/examples"
	"wallshoal/export/folder"
)

const (
	demoDir  = "wallshoal-demo"
	demoPlan = "ferry-terminal.yaml"
	demoLog  = "ferry-terminal-jobs.csv" // which the plan names
	demoPack = "pack"
)

func newDemo(d desk) *cobra.Command {
	return &cobra.Command{
		Use:   "demo [DIR]",
		Short: "write a plan to look at, and everything that comes of it",
		Long:  "Write a plan to look at, and everything that comes of it, into the folder DIR; " + demoDir + "\nwhere none is named.",
		Args:  between(0, "a folder to write"),
		RunE: func(cmd *cobra.Command, args []string) error {
			dir := demoDir
			if len(args) == 1 {
				dir = args[0]
			}
			return work(d.demo(cmd.Context(), dir))
		},
	}
}

func (d desk) demo(ctx context.Context, dir string) error {
	plan := filepath.Join(dir, demoPlan)
	j, err := job.ReadBeside(plan, []byte(examples.Ferry), examples.Files)
	if err != nil {
		return err
	}
	layout, err := d.compose(ctx, j, j.Plan.Seed)
	if err != nil {
		return err
	}
	if err := d.writeDemoPlan(ctx, dir); err != nil {
		return err
	}
	p, err := d.finish(ctx, j, layout, filepath.Join(dir, demoPack))
	if err != nil {
		return err
	}
	d.showDemo(p, dir, plan)
	return nil
}

// writeDemoPlan writes the plan and its log of jobs, each unless it stands there already as it should. Where
// somebody has changed one of them nothing is written: it is theirs.
func (d desk) writeDemoPlan(ctx context.Context, dir string) error {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return unwritable(dir, err)
	}
	missing := map[string][]byte{}
	for _, name := range []string{demoPlan, demoLog} {
		data, err := examples.Files.ReadFile(name)
		if err != nil {
			return err
		}
		path := filepath.Join(dir, name)
		there, err := d.read(path, int64(len(data)))
		switch {
		case err == nil && !bytes.Equal(there, data):
			return fmt.Errorf("%q has been changed, and is left as it is; name another folder, or pack it: wallshoal pack %s -o DIR", path, filepath.Join(dir, demoPlan))
		case errors.Is(err, fs.ErrNotExist):
			missing[name] = data
		case err != nil:
			return err
		}
	}
	for _, name := range []string{demoLog, demoPlan} { // the plan last: where it is, its log is too
		if data, ok := missing[name]; ok {
			if err := folder.WriteFile(ctx, filepath.Join(dir, name), text(string(data))); err != nil {
				return err
			}
		}
	}
	return nil
}

// showDemo says what was written and what to look at first.
func (d desk) showDemo(p pack, dir, plan string) {
	in := func(name string) string { return filepath.Join(dir, demoPack, name) }
	fmt.Fprintf(d.out, `%s: %s

wrote %s, the plan: measured walls, pieces, which way they move, and what making them takes
wrote %s, which the plan names: how long earlier jobs took
wrote %s, what comes of it: %s

look first at
  %s   the picture: what the client says yes to
  %s   the templates: what is taped to the wall and drilled through
  %s   the counts, what to make, hours, days and cost, and what to be careful of

`, p.work.Title, p.counts(), plan, filepath.Join(dir, demoLog), filepath.Join(dir, demoPack), p.list(),
		in("client.pdf"), in("hole-map.pdf"), in("scope.md"))
	d.tellWhatIsNext(p, filepath.Join(dir, demoPack))
	fmt.Fprintf(d.out, "a plan of your own: wallshoal new hall.yaml\n")
}
