package knob

import (
	"bytes"
	"errors"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/cmd/wallshoal/plan"
)

// A Version is the text of a plan, and the job that was read of it.
type Version struct {
	Text []byte
	Job  job.Job
}

func (v Version) knobs() []Knob { return Of(v.Job, v.Text) }

// called returns the knob with that ID.
func called(knobs []Knob, id string) (Knob, bool) {
	i := slices.IndexFunc(knobs, func(k Knob) bool { return k.ID == id })
	if i < 0 {
		return Knob{}, false
	}
	return knobs[i], true
}

// A Turn is a knob that stands otherwise in one version of a plan than in another. One that is not there at all has no
// ID.
type Turn struct{ From, To Knob }

// String says what was turned, like "spacing: 96 mm → 90 mm".
func (t Turn) String() string {
	k := t.To
	if k.ID == "" {
		k = t.From
	}
	said := func(k Knob) string {
		switch {
		case k.ID == "":
			return "nothing"
		case !k.Given && k.Type != Choice && k.Type != Switch:
			return shown(k) + " (usual)"
		}
		return shown(k)
	}
	switch {
	case k.Type != Place && k.Type != Path:
		return k.Label + ": " + said(t.From) + " → " + said(t.To)
	case !t.To.Given:
		return k.Label + ": taken away"
	case !t.From.Given:
		return k.Label + ": put on the wall"
	}
	return k.Label + ": moved"
}

// shown writes a value with its unit.
func shown(k Knob) string {
	if _, err := strconv.ParseFloat(k.Value, 64); err != nil {
		return k.Value
	}
	switch k.Type {
	case Length:
		return k.Value + " " + k.Unit
	case Degrees:
		return k.Value + "°"
	}
	return k.Value
}

// alike reports whether two knobs stand the same.
func alike(a, b Knob) bool { return a.Given == b.Given && (!a.Given || a.Value == b.Value) }

// turns returns which knobs stand otherwise, in the order of those that are there now.
func turns(from, to []Knob) []Turn {
	var all []Turn
	for _, k := range to {
		if was, ok := called(from, k.ID); ok && !alike(was, k) || !ok && k.Given {
			all = append(all, Turn{was, k})
		}
	}
	for _, k := range from {
		if _, ok := called(to, k.ID); !ok && k.Given {
			all = append(all, Turn{From: k})
		}
	}
	return all
}

// Turns returns which knobs stand otherwise in one version of a plan than in another, and how many lines are otherwise
// besides. read makes a job of a text.
func Turns(from, to Version, read func(text []byte) (job.Job, error)) ([]Turn, int) {
	all := turns(from.knobs(), to.knobs())
	if reached, _, err := carry(from, to, from, read); err == nil {
		from = reached
	}
	return all, otherLines(from.Text, to.Text)
}

// otherLines returns how many lines of one text the other has not, of whichever of the two there are more.
func otherLines(a, b []byte) int {
	count := map[string]int{}
	left, lacking := 0, 0
	for line := range bytes.Lines(a) {
		count[string(bytes.TrimRight(line, "\r\n"))]++
		left++
	}
	for line := range bytes.Lines(b) {
		if s := string(bytes.TrimRight(line, "\r\n")); count[s] > 0 {
			count[s]--
			left--
		} else {
			lacking++
		}
	}
	if left+lacking == 0 && !bytes.Equal(a, b) {
		return 1 // they are in another order, or end otherwise
	}
	return max(left, lacking)
}

// Merge returns the text of theirs with the knobs turned that were turned from base to mine, and all else as it is there.
// read makes a job of a text. The error says why that cannot be: something else than knobs was changed from base to mine; a
// knob was turned in both to different values, or is not in theirs any more; or the plan that comes of it has faults.
func Merge(base, mine, theirs Version, read func(text []byte) (job.Job, error)) ([]byte, error) {
	reached, merged, err := carry(base, mine, theirs, read)
	if err != nil {
		return nil, err
	}
	if !sameAsked(reached.Job.Plan, mine.Job.Plan) {
		return nil, errors.New("something else than the value of a knob was changed here")
	}
	return merged.Text, nil
}

// sameAsked reports whether two plans ask for the same, wherever it is written in their texts.
func sameAsked(a, b plan.Plan) bool {
	a.Lines, b.Lines = nil, nil
	return reflect.DeepEqual(a, b)
}

// rounds is how often knobs are turned to carry changes over: some are there only once others are turned.
const rounds = 3

// carry turns knobs of base and of theirs to where they are in mine, as far as knobs go.
func carry(base, mine, theirs Version, read func(text []byte) (job.Job, error)) (reached, merged Version, err error) {
	want := mine.knobs()
	for range rounds {
		here, there := base.knobs(), theirs.knobs()
		all := settings(here, want)
		if len(all) == 0 {
			break
		}
		some, err := open(all, here, want, there)
		if err != nil {
			return base, theirs, err
		}
		if base, err = base.with(all, read); err != nil {
			return base, theirs, err
		}
		if theirs, err = theirs.with(some, read); err != nil {
			return base, theirs, err
		}
	}
	return base, theirs, nil
}

// with returns a version with settings made in it.
func (v Version) with(all []Setting, read func(text []byte) (job.Job, error)) (Version, error) {
	if len(all) == 0 {
		return v, nil
	}
	text, err := Change(v.Job, v.Text, all)
	if err != nil {
		return v, err
	}
	j, err := read(text)
	return Version{text, j}, err
}

// settings returns what is to be set for knobs to stand as others do.
func settings(from, to []Knob) []Setting {
	var all []Setting
	for _, k := range to {
		was, ok := called(from, k.ID)
		switch {
		case !ok || alike(was, k): // one that is not there yet comes with another
		case k.Given:
			all = append(all, Setting{k.ID, k.Value})
		default:
			all = append(all, Setting{Knob: k.ID})
		}
	}
	gone := func(k Knob) bool {
		_, ok := called(to, k.ID)
		return k.Given && !ok
	}
	for _, k := range from {
		_, grouped := called(to, mixField+"."+families)
		switch {
		case k.ID == mixField && grouped: // a choice that is written as a map, with a knob of its own
			all = append(all, Setting{k.ID, families})
		case !gone(k):
		case !slices.ContainsFunc(from, func(of Knob) bool { return of.ID != k.ID && gone(of) && takes(of, k.ID) }):
			all = append(all, Setting{Knob: k.ID})
		}
	}
	return all
}

// takes reports whether a field goes when a knob is taken out of the plan, with all that is said of it.
func takes(k Knob, field string) bool {
	i := strings.LastIndex(k.ID, ".")
	return (k.Type == Place || k.Type == Path || k.ID == clumpsField+".size") && i >= 0 && strings.HasPrefix(field, k.ID[:i+1])
}

// open returns those of the settings that are still to be made in theirs. The error tells all that cannot be.
func open(all []Setting, base, mine, theirs []Knob) ([]Setting, error) {
	var some []Setting
	var wrong []string
	for _, s := range all {
		was, _ := called(base, s.Knob)
		now, ok := called(theirs, s.Knob)
		asked, stays := called(mine, s.Knob)
		switch {
		case stays && ok && alike(now, asked): // both did the same
		case !ok || now.Label != was.Label || now.Type != was.Type || !sameList(s.Knob, base, theirs):
			wrong = append(wrong, "“"+was.Label+"” is not there as it was")
		case !alike(now, was):
			wrong = append(wrong, "“"+was.Label+"” was changed here and there")
		default:
			some = append(some, s)
		}
	}
	if len(wrong) > 0 {
		return nil, errors.New(strings.Join(wrong, ", "))
	}
	return some, nil
}

// sameList reports whether the list that a field lies in has as many entries, so that the third is still the
// third. Pieces and walls have names to know them by.
func sameList(field string, a, b []Knob) bool {
	list, _, in := strings.Cut(field, "[")
	if !in || !strings.HasPrefix(list, "composition.") {
		return true
	}
	entries := func(knobs []Knob) map[string]bool {
		all := map[string]bool{}
		for _, k := range knobs {
			if rest, ok := strings.CutPrefix(k.ID, list+"["); ok {
				entry, _, _ := strings.Cut(rest, "]")
				all[entry] = true
			}
		}
		return all
	}
	return maps.Equal(entries(a), entries(b))
}
