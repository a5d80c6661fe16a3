package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strconv"

	"github.com/spf13/cobra"

	"wallshoal/cmd/wallshoal/layoutfile"
	"wallshoal/export/folder"
	"wallshoal/export/holemap"
	"wallshoal/scatter/heading"
)

func newLay(d desk) *cobra.Command {
	var o layOptions
	cmd := &cobra.Command{
		Use:   "lay PLAN [-o layout.yaml]",
		Short: "compose a plan and write the layout: where every piece is, to nudge by hand",
		Long: `Compose a plan and write the layout: where every piece is and which way it heads. Pieces in it
can be moved and turned by hand; pack --layout draws it as it is then.

Without -o the layout goes to the standard output. A file that is there already is written over
only with --replace, because it may hold what somebody moved. Pieces in it that are marked
"locked: true" stay then, to the last bit and under their numbers, and the others are laid anew round
them; --from takes them from another file. With --keep all pieces of a wall or a face stay, with
--only all but those of that wall or face: give the option once for each.

With --variants it composes with so many seeds, from the plan's or that of --seed upwards, and writes
a folder: variants.pdf and variants.svg to choose from, with their measures side by side, and the
layout of each. With --from as well they differ only in what does not stay.

With --mend every piece stays whose place the plan still allows, and only the others are laid anew: after a measure turned out
wrong, say, so that few sheets are to be printed again. With --progress, the file in which view keeps what hangs, all pieces that hang
stay where they are, whatever the plan has come to say of their places.`,
		Args: exactly("a plan"),
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case o.replace && o.variants > 0:
				return usageError{"variants are written into a folder, which a later one replaces", "leave out --replace"}
			case o.replace && o.output == "":
				return usageError{"--replace needs a file to replace", "name it with -o"}
			}
			if err := o.start.check(o.output, o.replace); err != nil {
				return err
			}
			if o.variants > 0 {
				if o.start.mend {
					return usageError{"--mend moves a few pieces, and variants differ in many", "leave out one of them"}
				}
				return work(d.variants(cmd.Context(), args[0], o))
			}
			return work(d.lay(cmd.Context(), args[0], o))
		},
	}
	cmd.Flags().StringVarP(&o.output, "output", "o", "", "the `file` to write; with --variants, the folder")
	cmd.Flags().BoolVar(&o.replace, "replace", false, "write over a file that is there")
	cmd.Flags().Var(&o.seed, "seed", seedUsage)
	cmd.Flags().BoolVar(&o.asJSON, "json", false, "write it as JSON, for programs")
	cmd.Flags().StringVar(&o.start.from, "from", "", "lay round what is locked in the layout in this `file`")
	cmd.Flags().StringArrayVar(&o.start.keep, "keep", nil, "keep every piece of this `wall` or face as it is")
	cmd.Flags().StringArrayVar(&o.start.only, "only", nil, "lay this `wall` or face alone anew")
	cmd.Flags().BoolVar(&o.start.mend, "mend", false, "lay only those pieces anew that may not stay where they are")
	cmd.Flags().StringVar(&o.start.hung, "progress", "", "keep what hangs by this `file`, in which view keeps it")
	cmd.Flags().BoolVar(&o.start.afresh, "afresh", false, "keep nothing, locked or not")
	cmd.Flags().Var(&o.variants, "variants", "lay so many variants to choose from, up to "+strconv.Itoa(mostVariants))
	return cmd
}

type layOptions struct {
	output   string
	replace  bool
	seed     seedFlag
	asJSON   bool
	variants countFlag
	start    startFlags
}

func (d desk) lay(ctx context.Context, path string, o layOptions) error {
	j, err := d.open(path)
	if err != nil {
		return err
	}
	start, err := d.start(j, o.start, o.output, o.replace)
	if err != nil {
		return err
	}
	layout, err := d.composeFrom(ctx, j, start, o.seed.or(start.seed))
	if err != nil {
		return err
	}
	w, err := j.Work(layout)
	if err != nil {
		return err
	}
	write := func(out io.Writer) error { return layoutfile.Write(out, w) }
	if o.asJSON {
		write = func(out io.Writer) error { return writeJSON(out, listed(w)) }
	}
	if o.output == "" {
		if err := write(d.out); err != nil {
			return err
		}
		return d.tellLaid(j, start, layout)
	}
	put := folder.WriteFile
	if o.replace {
		put = folder.ReplaceFile
	}
	if err := put(ctx, o.output, write); err != nil {
		if errors.Is(err, folder.ErrThere) {
			err = fmt.Errorf("%w, or write over it with --replace", err)
		}
		return err
	}
	fmt.Fprintf(d.out, "wrote %s: %s, seed %d\n", o.output, counted(len(layout.Pieces), "piece"), layout.Seed)
	return d.tellLaid(j, start, layout)
}

// A layoutJSON is a layout as lay writes it for programs. Its names are those of pieces.csv.
type layoutJSON struct {
	Title       string      `json:"title"`
	Fingerprint string      `json:"fingerprint"`
	Seed        uint64      `json:"seed"`
	Pieces      []pieceJSON `json:"pieces"`
}

type pieceJSON struct {
	Piece   int             `json:"piece"`
	Kind    string          `json:"kind"`
	Wall    string          `json:"wall"`
	Face    string          `json:"face"`
	X       float64         `json:"x_mm"`
	Y       float64         `json:"y_mm"`
	Heading heading.Bearing `json:"heading_deg"`
	Locked  bool            `json:"locked"`
}

func listed(w holemap.Work) layoutJSON {
	out := layoutJSON{w.Title, w.Map.Fingerprint, w.Layout.Seed, []pieceJSON{}}
	for _, p := range w.Layout.Pieces {
		face := w.Site.Faces[p.Face]
		out.Pieces = append(out.Pieces, pieceJSON{
			p.ID, w.Kinds[p.Kind].Code, w.Site.Room.Walls[face.Wall].Name, face.Name,
			p.At.X, p.At.Y, p.Heading, p.Locked,
		})
	}
	return out
}
