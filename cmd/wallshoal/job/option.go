package job

import (
	"context"
	"errors"

	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter"
	"wallshoal/wall"
)

// LayOption composes the option of the plan with the given index, and returns it as a job of its own.
// Where the option cannot be, such as where not all of its pieces fit, the error is yamlfile.Faults of the
// option.
func (j Job) LayOption(ctx context.Context, i int, seed uint64) (Job, scatter.Layout, error) {
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
	var layout scatter.Layout
	if err == nil {
		layout, err = o.LayFrom(ctx, scatter.Start{}, seed, nil)
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
		out[n] = f
	}
	return out
}
