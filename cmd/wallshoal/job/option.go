package job

import (
	"context"
	"errors"
	"runtime"
	"strings"
	"sync"

	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter"
	"wallshoal/wall"
)

// LayOption composes the option of the plan with the given index, and returns it as a job of its own.
// Where the option cannot be, such as where not all of its pieces fit, the error is yamlfile.Faults of the
// option.
func (j Job) LayOption(ctx context.Context, i int, seed uint64) (Job, scatter.Layout, error) {
	return j.LayOptionFrom(ctx, i, seed, func(Job) ([]scatter.Piece, error) { return nil, nil })
}

// LayOptionFrom is LayOption round pieces that stay where they are: kept returns them as pieces of the option's job.
func (j Job) LayOptionFrom(ctx context.Context, i int, seed uint64, kept func(Job) ([]scatter.Piece, error)) (Job, scatter.Layout, error) {
	o := j
	o.Plan = j.Plan.With(i)
	if j.Plan.Options[i].OtherWalls {
		site, err := wall.Survey(o.Plan.Room)
		if err != nil {
			return o, scatter.Layout{}, err
		}
		o.Site = site
	}
	err := o.count()
	var start scatter.Start
	if err == nil {
		start.Kept, err = kept(o)
	}
	var layout scatter.Layout
	if err == nil {
		layout, err = o.LayFrom(ctx, start, seed, nil)
	}
	return o, layout, j.ofOption(i, err)
}

// ofOption returns faults as those of the option with the given index, and any other error as it is.
func (j Job) ofOption(i int, err error) error {
	var faults yamlfile.Faults
	if !errors.As(err, &faults) {
		return err
	}
	field := plan.OptionField(i, "count")
	out := make(yamlfile.Faults, len(faults))
	for n, f := range faults {
		f.Field, f.Line = field, j.Plan.Lines[field]
		f.Fix = strings.ReplaceAll(f.Fix, "composition.", "") // as the keys of an option are called
		out[n] = f
	}
	return out
}

// EachOption does something with every option of the plan, given its index, on all processors. The error is
// the faults of all options as yamlfile.Faults, or the first that is none of them.
func (j Job) EachOption(do func(i int) error) error {
	errs := make([]error, len(j.Plan.Options))
	turn := make(chan struct{}, runtime.GOMAXPROCS(0))
	var working sync.WaitGroup
	for i := range errs {
		turn <- struct{}{}
		working.Go(func() {
			defer func() { <-turn }()
			errs[i] = do(i)
		})
	}
	working.Wait()
	var all yamlfile.Faults
	for _, err := range errs {
		var faults yamlfile.Faults
		if !errors.As(err, &faults) && err != nil {
			return err
		}
		all = append(all, faults...)
	}
	if len(all) == 0 {
		return nil
	}
	return all.Listed()
}
