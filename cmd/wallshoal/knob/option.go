package knob

import (
	"errors"
	"fmt"
	"iter"
	"reflect"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/cmd/wallshoal/yamledit"
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/wall"
)

// A Taking is a plan into which one of its options was written.
type Taking struct {
	Text []byte
	Job  job.Job
}

// TakeOption writes what the option with the given index says into the plan, in place of what stood there,
// and leaves all else as it was. The option itself stays: it is the plan then. Others stay as they are written.
// read makes a job of a text.
//
// The plan that comes of it has been read, and asks for just what the option asks for. Where that cannot be,
// the error says why: a wall.Problem, or several joined.
func TakeOption(j job.Job, text []byte, option int, read func(text []byte) (job.Job, error)) (Taking, error) {
	o := j.Plan.Options[option]
	if idle(o) {
		return Taking{}, refusal(o.Name, "changes nothing: it is the plan as it is written", "there is nothing to take")
	}
	t := taker{board: &board{job: j, root: rootOf(text)}, option: option}
	after, err := yamledit.Apply(text, t.all())
	if err != nil {
		return Taking{}, hardly(o.Name, err)
	}
	taking, err := t.beside(after, read)
	if err != nil {
		return Taking{}, hardly(o.Name, err)
	}
	if !sameWork(j.Plan.With(option), taking.Job.Plan, j.Plan) {
		return Taking{}, refusal(o.Name, "would not come to the same work once it is written into the plan", "write into the plan by hand what it names")
	}
	return taking, nil
}

// refusal says why an option is not taken.
func refusal(name, wrong, fix string) error {
	return wall.Problem{Field: "options", Wrong: name + " " + wrong, Fix: fix}
}

// hardly returns the first of what is in the way of taking an option, as one message.
func hardly(name string, err error) error {
	var faults yamlfile.Faults
	var problem wall.Problem
	switch {
	case errors.As(err, &faults):
		problem = wall.Problem{Field: faults[0].Field, Wrong: faults[0].Wrong, Fix: faults[0].Fix}
	case !errors.As(err, &problem):
		return err
	}
	return refusal(name, fmt.Sprintf("cannot be written into the plan: %s: %s", problem.Field, problem.Wrong), problem.Fix)
}

// sameWork reports whether a plan asks for the same work as another, and is for the rest as it was before.
func sameWork(want, got, before plan.Plan) bool {
	asked := got.Composition
	if asked.Density.PerSquareMetre > 0 {
		asked.Count = 0 // the walls say it, and have not been asked for an option
	}
	if !reflect.DeepEqual(want.Room, got.Room) || !reflect.DeepEqual(want.Kinds, got.Kinds) || !reflect.DeepEqual(want.Composition, asked) {
		return false
	}
	got.Room, got.Kinds, got.Composition, got.Options, got.Lines = before.Room, before.Kinds, before.Composition, before.Options, before.Lines
	return reflect.DeepEqual(before, got)
}

// A taker gathers the changes that write an option into its plan.
type taker struct {
	*board
	option  int
	changes []yamledit.Change
}

// said returns what the option says under a key; nil where it says nothing.
func (t *taker) said(key string) *yaml.Node { return t.node(plan.OptionField(t.option, key)) }

// set gives a field of the plan a value in place of what stood there.
func (t *taker) set(field string, value any) {
	t.change(field, yamledit.Change{Value: value, Whole: true})
}

// drop takes a field out of the plan, where it is there.
func (t *taker) drop(field string) {
	if t.node(field) != nil {
		t.change(field, yamledit.Change{Remove: true})
	}
}

func (t *taker) change(field string, c yamledit.Change) {
	var err error
	if c.Path, err = yamledit.Path(field); err == nil { // the names of the plan's own keys
		t.changes = append(t.changes, c)
	}
}

// all gathers everything that the option says.
func (t *taker) all() []yamledit.Change {
	t.uses()
	t.quotas()
	for _, key := range []string{"count", "spacing", "gap"} {
		if n := t.said(key); n != nil {
			t.set("composition."+key, n.Value)
		}
	}
	t.dense()
	return t.changes
}

// uses writes which walls take pieces, and takes out of what stands on them that it does.
func (t *taker) uses() {
	before, now := t.job.Plan.Room, t.job.Plan.Options[t.option].Room
	for i := range before.Walls {
		t.use(fmt.Sprintf("room.walls[%d]", i), before.Walls[i], now.Walls[i])
	}
	if before.Ceiling != nil {
		t.use("room.ceiling", *before.Ceiling, *now.Ceiling)
	}
}

func (t *taker) use(field string, before, now wall.Wall) {
	if before.Bare != now.Bare {
		t.set(field+".use", !now.Bare)
	}
	for i, o := range before.Obstructions {
		if len(o.Use) > 0 && len(now.Obstructions[i].Use) == 0 {
			t.drop(fmt.Sprintf("%s.obstructions[%d].use", field, i))
		}
	}
}

// quotas writes how many of the kinds there are to be.
func (t *taker) quotas() {
	pieces := t.items("pieces")
	for _, key := range []string{"counts", "shares"} {
		for code, n := range entries(t.said(key)) {
			i := slices.IndexFunc(pieces, func(f string) bool {
				c := t.node(f + ".code")
				return c != nil && strings.TrimSpace(c.Value) == strings.TrimSpace(code)
			})
			if i < 0 {
				continue // what comes of it is held against the option
			}
			put, out := "count", "share"
			if key == "shares" || strings.Trim(n.Value, "0+ ") == "" { // none of a kind is a share of nothing
				put, out = out, put
			}
			t.set(pieces[i]+"."+put, n.Value)
			t.drop(pieces[i] + "." + out)
		}
	}
}

// dense writes how dense the work is where. A base of the plan stays unless the option says how many pieces there
// are in another way.
func (t *taker) dense() {
	const dense, base = "composition.density", "composition.density.base"
	given, counted := t.said("density"), t.said("count") != nil
	keeps := t.node(base) != nil && !counted
	switch {
	case given == nil && counted && t.node(base) != nil:
		if len(t.node(dense).Content) > 2 {
			t.drop(base)
		} else {
			t.drop(dense)
		}
	case given == nil:
	case given.Kind != yaml.MappingNode && keeps: // even, but so many
		for key := range entries(t.node(dense)) {
			if key != "base" {
				t.drop(dense + "." + key)
			}
		}
	case given.Kind != yaml.MappingNode:
		t.drop(dense)
	default:
		value, _ := written(given).(yamledit.Map)
		if inside(given, yamledit.Key("base")) != nil {
			t.drop("composition.count")
		} else if keeps {
			value = append(yamledit.Map{{Key: "base", Value: t.node(base).Value}}, value...)
		}
		t.set(dense, value)
	}
}

// entries returns the keys of a map with their values, in order.
func entries(n *yaml.Node) iter.Seq2[string, *yaml.Node] {
	return func(yield func(string, *yaml.Node) bool) {
		if n == nil || n.Kind != yaml.MappingNode {
			return
		}
		for i := 0; i+1 < len(n.Content); i += 2 {
			if !yield(n.Content[i].Value, n.Content[i+1]) {
				return
			}
		}
	}
}

// written returns what a node says as a value to write.
func written(n *yaml.Node) any {
	switch n.Kind {
	case yaml.MappingNode:
		m := yamledit.Map{}
		for key, v := range entries(n) {
			m = append(m, yamledit.Entry{Key: key, Value: written(v)})
		}
		return m
	case yaml.SequenceNode:
		l := yamledit.List{}
		for _, v := range n.Content {
			l = append(l, written(v))
		}
		return l
	}
	return n.Value
}

// beside returns the plan of a text into which the option was written. An option beside it may be at fault now:
// the error then names that one, where it can be found.
func (t *taker) beside(text []byte, read func(text []byte) (job.Job, error)) (Taking, error) {
	j, wrong := read(text)
	if wrong == nil {
		return Taking{Text: text, Job: j}, nil
	}
	options := t.job.Plan.Options
	for i, o := range options {
		if i == t.option {
			continue
		}
		alone, err := withoutOptions(text, len(options), func(k int) bool { return k == i })
		if err != nil {
			return Taking{}, err
		}
		if _, err := read(alone); err != nil {
			return Taking{}, ofOption(o.Name, err)
		}
	}
	return Taking{}, wrong
}

// ofOption returns what is wrong with the only option of a text under its name.
func ofOption(name string, err error) error {
	var faults yamlfile.Faults
	if !errors.As(err, &faults) || !strings.HasPrefix(faults[0].Field, "options[0]") {
		return err
	}
	field := "the option " + name + strings.TrimPrefix(faults[0].Field, "options[0]")
	return wall.Problem{Field: field, Wrong: faults[0].Wrong, Fix: "change or remove that option first: " + faults[0].Fix}
}

// idle reports whether an option changes nothing.
func idle(o plan.OptionSection) bool { return len(o.Changes) == 0 && !o.OtherWalls }

// withoutOptions returns a text without those of its options that are not to stay.
func withoutOptions(text []byte, n int, stays func(option int) bool) ([]byte, error) {
	var changes []yamledit.Change
	for i := n - 1; i >= 0; i-- {
		if !stays(i) {
			changes = append(changes, yamledit.Change{Path: []yamledit.Step{yamledit.Key("options"), yamledit.Index(i)}, Remove: true})
		}
	}
	return yamledit.Apply(text, changes)
}
