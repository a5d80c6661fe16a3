package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"text/tabwriter"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/cmd/wallshoal/layoutfile"
	"wallshoal/cmd/wallshoal/press"
	"wallshoal/export/contactpage"
	"wallshoal/export/draw"
	"wallshoal/export/folder"
	"wallshoal/export/holemap"
	"wallshoal/export/tiling"
	"wallshoal/scatter"
)

// mostVariants is how many variants are laid at once, at most.
const mostVariants = 24

// A countFlag is a number of variants given on the command line, or none.
type countFlag int

// Set implements pflag.Value.
func (f *countFlag) Set(text string) error {
	n, err := strconv.Atoi(text)
	if err != nil || n < 2 || n > mostVariants {
		return fmt.Errorf("%q is not a number of variants; give a whole number from 2 to %d", text, mostVariants)
	}
	*f = countFlag(n)
	return nil
}

// String implements pflag.Value.
func (f *countFlag) String() string {
	if *f == 0 {
		return ""
	}
	return strconv.Itoa(int(*f))
}

// Type implements pflag.Value.
func (f *countFlag) Type() string { return "number" }

// A variant is one of several layouts of a plan.
type variant struct {
	work     holemap.Work
	found    scatter.Appraisal
	measures []contactpage.Measure
	figures  []float64 // of the measures
}

// variants lays a plan with several seeds, measures the layouts side by side, and writes them and
// their pictures into a folder of their own.
func (d desk) variants(ctx context.Context, path string, o layOptions) error {
	j, err := d.open(path)
	if err != nil {
		return err
	}
	start, err := d.start(j, o.start, "", false)
	if err != nil {
		return err
	}
	laid, unfit, err := d.layVariants(ctx, j, start.Start, o.seed.or(j.Plan.Seed), int(o.variants))
	if err != nil {
		return err
	}
	notes := compare(laid, j.Plan.Composition)
	dir := o.output
	if dir == "" {
		dir = folderOf(path)
	}
	p := press.Of(laid[0].work, j.Plan.Print, d.meter)
	kept := len(start.Kept) > 0
	about := contactpage.Contact{Take: "To take one, " + howToTake(filepath.Base(path), filepath.Base(dir), laid[0], kept), Notes: notes}
	if err := folder.Write(ctx, dir, variantFiles(ctx, p, laid, about)); err != nil {
		return err
	}
	for _, warning := range p.Warnings {
		d.say(warning)
	}
	for _, seed := range unfit {
		d.say(fmt.Sprintf("seed %d found no room for all %s, and is left out", seed, counted(j.Plan.Composition.Count, "piece")))
	}
	if o.asJSON {
		return writeJSON(d.out, compared(j.Name, dir, laid))
	}
	return d.tellVariants(dir, laid, howToTake(path, dir, laid[0], kept), notes)
}

// folderOf returns the folder that variants are written into where none is named.
func folderOf(path string) string {
	if path == "-" {
		return "variants"
	}
	name := filepath.Base(path)
	return strings.TrimSuffix(name, filepath.Ext(name)) + "-variants"
}

// layVariants lays n variants round what stays where it is, from the given seed upwards, on all processors. Seeds that find no
// room for all pieces are left out and named; where none does, the error is that of the first.
func (d desk) layVariants(ctx context.Context, j job.Job, start scatter.Start, seed uint64, n int) (laid []variant, unfit []uint64, err error) {
	all, faults := make([]variant, n), make([]error, n)
	d.meter.Begin("variants laid")
	defer d.meter.Clear()
	var finished atomic.Int64
	turn := make(chan struct{}, runtime.GOMAXPROCS(0))
	var working sync.WaitGroup
	for i := range n {
		turn <- struct{}{}
		working.Go(func() {
			all[i], faults[i] = layVariant(ctx, j, start, seed+uint64(i))
			d.meter.Step(int(finished.Add(1)), n)
			<-turn
		})
	}
	working.Wait()
	for i, fault := range faults {
		var short *scatter.ShortfallError
		switch {
		case errors.As(fault, &short):
			unfit = append(unfit, seed+uint64(i))
		case fault != nil:
			return nil, nil, fault
		default:
			laid = append(laid, all[i])
		}
	}
	if len(laid) == 0 {
		return nil, nil, faults[0]
	}
	return laid, unfit, nil
}

// layVariant lays the plan with the seed and measures what comes of it.
func layVariant(ctx context.Context, j job.Job, start scatter.Start, seed uint64) (variant, error) {
	layout, err := j.LayFrom(ctx, start, seed, nil)
	if err != nil {
		return variant{}, err
	}
	w, err := j.Work(layout)
	if err != nil {
		return variant{}, err
	}
	found, err := scatter.Appraise(ctx, j.Site, j.Plan.Kinds, j.Plan.Composition, layout)
	return variant{work: w, found: found}, err
}

// seed returns the seed of a variant.
func (v variant) seed() uint64 { return v.work.Layout.Seed }

// layoutName returns the name of a variant's layout file.
func (v variant) layoutName() string { return fmt.Sprintf("variant-%d.layout.yaml", v.seed()) }

// variantFiles returns the files of a folder of variants: the sheets to choose from, then the layouts.
func variantFiles(ctx context.Context, p *press.Press, laid []variant, about contactpage.Contact) []folder.File {
	shown := make([]contactpage.Variant, len(laid))
	for i, v := range laid {
		shown[i] = contactpage.Variant{Work: v.work, Measures: v.measures}
	}
	list := []folder.File{
		{Name: "variants.pdf", Write: p.PDF(ctx, "variants", func(c draw.Canvas, _ holemap.Work, print tiling.Print) error {
			return contactpage.Sheets(c, shown, about, print)
		})},
		{Name: "variants.svg", Write: p.SVG("variants", func(c draw.Canvas, _ holemap.Work) error {
			return contactpage.Strip(c, shown, about, p.Print)
		})},
	}
	for _, v := range laid {
		list = append(list, folder.File{Name: v.layoutName(), Write: func(out io.Writer) error { return layoutfile.Write(out, v.work) }})
	}
	return list
}

// tellVariants prints the measures side by side, and how to take a variant.
func (d desk) tellVariants(dir string, laid []variant, take string, notes []string) error {
	fmt.Fprintf(d.out, "wrote %s to %s: variants.pdf to choose from, and their layouts\n\n", counted(len(laid), "variant"), dir)
	t := tabwriter.NewWriter(d.out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprint(t, "seed\t")
	for _, m := range laid[0].measures {
		fmt.Fprintf(t, "%s  \t", m.Name) // over the figures, before their marks
	}
	fmt.Fprintln(t)
	for _, v := range laid {
		fmt.Fprintf(t, "%d\t", v.seed())
		for _, m := range v.measures {
			mark := "  "
			if m.Best {
				mark = " *"
			}
			fmt.Fprintf(t, "%s%s\t", m.Value, mark)
		}
		fmt.Fprintln(t)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	fmt.Fprintln(d.out)
	for _, n := range append([]string{"* no other does better"}, notes...) {
		fmt.Fprint(d.out, indented(n))
	}
	_, err := fmt.Fprintf(d.out, "\nto take one, %s\n", take)
	return err
}

// howToTake says how to take a variant, such as the given one. Where pieces were kept its seed alone
// does not give it again.
func howToTake(path, dir string, v variant, kept bool) string {
	if kept {
		return fmt.Sprintf("pack its layout: wallshoal pack %s --layout %s -o %s", path, filepath.Join(dir, v.layoutName()), packOf(path))
	}
	return fmt.Sprintf("write its seed into the plan %s, such as seed: %d, or name it: wallshoal pack %s --seed %d -o %s",
		path, v.seed(), path, v.seed(), packOf(path))
}

// packOf returns a folder for the pack of a plan.
func packOf(path string) string { return strings.TrimSuffix(folderOf(path), "-variants") }
