package main

import (
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
	j, err := job.Read(plan, []byte(examples.Ferry))
	if err != nil {
		return err
	}
	layout, err := d.compose(ctx, j, j.Plan.Seed)
	if err != nil {
		return err
	}
	if err := d.writeDemoPlan(ctx, dir, plan); err != nil {
		return err
	}
	p, err := d.finish(ctx, j, layout, filepath.Join(dir, demoPack))
	if err != nil {
		return err
	}
	d.showDemo(p, dir, plan)
	return nil
}

// writeDemoPlan writes the plan unless it stands there already as it should. One that somebody has
// changed is theirs.
func (d desk) writeDemoPlan(ctx context.Context, dir, plan string) error {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return unwritable(dir, err)
	}
	there, err := d.read(plan, int64(len(examples.Ferry)))
	switch {
	case err == nil && string(there) == examples.Ferry:
		return nil
	case err == nil:
		return fmt.Errorf("%q has been changed, and is left as it is; name another folder, or pack it: wallshoal pack %s -o DIR", plan, plan)
	case !errors.Is(err, fs.ErrNotExist):
		return err
	}
	return folder.WriteFile(ctx, plan, text(examples.Ferry))
}

// showDemo says what was written and what to look at first.
func (d desk) showDemo(p pack, dir, plan string) {
	in := func(name string) string { return filepath.Join(dir, demoPack, name) }
	fmt.Fprintf(d.out, `%s: %s

wrote %s, the plan: measured walls, pieces, and which way they move
wrote %s, what comes of it: %s

look first at
  %s   the picture: what the client says yes to
  %s   the templates: what is taped to the wall and drilled through
  %s   the counts, and what to be careful of

`, p.work.Title, p.counts(), plan, filepath.Join(dir, demoPack), p.list(),
		in("client.pdf"), in("hole-map.pdf"), in("scope.md"))
	d.tellWhatIsNext(p, filepath.Join(dir, demoPack))
	fmt.Fprintf(d.out, "a plan of your own: wallshoal new hall.yaml\n")
}
