package knob

import (
	"bytes"
	"errors"
	"fmt"
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

// called returns the knob with that key.
func called(knobs []named, key string) (named, bool) {
	i := slices.IndexFunc(knobs, func(k named) bool { return k.key == key })
	if i < 0 {
		return named{}, false
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
func alike(a, b named) bool { return a.Given == b.Given && (!a.Given || a.said == b.said) }

// turns returns which knobs stand otherwise, in the order of those that are there now.
func turns(from, to []named) []Turn {
	var all []Turn
	for _, k := range to {
		if was, ok := called(from, k.key); ok && !alike(was, k) || !ok && k.Given {
			all = append(all, Turn{was.Knob, k.Knob})
		}
	}
	for _, k := range from {
		if _, ok := called(to, k.key); !ok && k.Given {
			all = append(all, Turn{From: k.Knob})
		}
	}
	return all
}

// Turns returns which knobs stand otherwise in one version of a plan than in another, and how many lines are otherwise
// besides. read makes a job of a text.
func Turns(from, to Version, read func(text []byte) (job.Job, error)) ([]Turn, int) {
	all := turns(from.named(from, inTurn), to.named(from, probably))
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
// Pieces are known by their codes, walls by their names, and other entries of lists by what they say, wherever they stand now.
// read makes a job of a text. The error says why that cannot be: something else than knobs was changed from base to mine; a
// knob was turned in both to different values, or is not in theirs any more; it cannot be told which entry it is of there; or the plan that
// comes of it has faults.
func Merge(base, mine, theirs Version, read func(text []byte) (job.Job, error)) ([]byte, error) {
	if base.Job.Plan.Units != theirs.Job.Plan.Units {
		return nil, errors.New("lengths are in other units there")
	}
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
	for range rounds {
		here, want, there := base.named(base, inTurn), mine.named(base, inTurn), theirs.named(base, alikeOnly)
		all := changes(here, want)
		if len(all) == 0 {
			break
		}
		some, err := open(all, here, there, base, theirs)
		if err != nil {
			return base, theirs, err
		}
		ours, err := base.settings(all, here, mine)
		if err != nil {
			return base, theirs, err
		}
		settings, err := theirs.settings(some, there, mine)
		if err != nil {
			return base, theirs, err
		}
		if base, err = base.with(ours, read); err != nil {
			return base, theirs, err
		}
		if theirs, err = theirs.with(settings, read); err != nil {
			return base, theirs, err
		}
	}
	return base, theirs, nil
}

// A change is what is to be done to a knob for it to stand as it does elsewhere.
type change struct {
	key  string
	to   named // as it is to stand; taken out of the plan where it is not given
	list bool  // it becomes what is written as a map, with a knob of its own
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

// settings returns changes that come from another version as settings of v, whose knobs are given.
func (v Version) settings(all []change, knobs []named, from Version) ([]Setting, error) {
	var set, out []Setting
	for _, c := range all {
		k, _ := called(knobs, c.key) // there is one, as open has seen
		switch {
		case c.list:
			set = append(set, Setting{k.ID, families})
		case c.to.Given:
			value, ok := v.there(c.to.Knob, from)
			if !ok {
				return nil, fmt.Errorf("“%s” lies on what is not there", c.to.Label)
			}
			set = append(set, Setting{k.ID, value})
		default: // the last first, and after all else: what is taken out moves what comes after it in a list
			out = append([]Setting{{Knob: k.ID}}, out...)
		}
	}
	return append(set, out...), nil
}

// changes returns what is to be done for knobs to stand as others do.
func changes(from, to []named) []change {
	var all []change
	for _, k := range to {
		if was, ok := called(from, k.key); ok && !alike(was, k) { // one that is not there yet comes with another
			all = append(all, change{key: k.key, to: k})
		}
	}
	gone := func(k named) bool {
		_, ok := called(to, k.key)
		return k.Given && !ok
	}
	_, grouped := called(to, mixField+"."+families)
	for _, k := range from {
		switch {
		case k.ID == mixField && grouped:
			all = append(all, change{key: k.key, list: true})
		case !gone(k):
		case !slices.ContainsFunc(from, func(of named) bool { return of.key != k.key && gone(of) && of.takes(k.key) }):
			all = append(all, change{key: k.key})
		}
	}
	return all
}

// field returns the field that goes when a knob is taken out of the plan, with all that is said of it; empty if that is its own.
func (k Knob) field() string {
	i := strings.LastIndex(k.ID, ".")
	if i < 0 || k.Type != Place && k.Type != Path && k.ID != clumpsField+".size" {
		return ""
	}
	return k.ID[:i]
}

// takes reports whether what has a key goes when a knob is taken out of the plan.
func (k named) takes(key string) bool {
	return k.field() != "" && strings.HasPrefix(key, k.key[:strings.LastIndex(k.key, ".")+1])
}

// open returns those of the changes that are still to be made in theirs. The error tells all that cannot be.
func open(all []change, base, theirs []named, before, after Version) ([]change, error) {
	var some []change
	var wrong []string
	doubt := doubtful(before, after)
	for _, c := range all {
		was, _ := called(base, c.key)
		now, ok := called(theirs, c.key)
		switch {
		case ok && c.to.key != "" && alike(now, c.to): // both did the same
		case slices.ContainsFunc(doubt, func(of string) bool { return strings.HasPrefix(c.key, of) }), !ok && entryUnknown(c.key, theirs):
			wrong = append(wrong, "it cannot be told what “"+was.Label+"” is of there")
		case !ok || now.Type != was.Type:
			wrong = append(wrong, "“"+was.Label+"” is not there as it was")
		case !alike(now, was) || c.takesMore(was, now, before, after):
			wrong = append(wrong, "“"+was.Label+"” was changed here and there")
		default:
			some = append(some, c)
		}
	}
	if len(wrong) > 0 {
		return nil, errors.New(strings.Join(wrong, ", "))
	}
	return some, nil
}

// takesMore reports whether a change takes out of the plan what was changed there besides the knob.
func (c change) takesMore(was, now named, before, after Version) bool {
	if c.to.Given || c.list || was.field() == "" {
		return false
	}
	a, b := before.board().node(was.field()), after.board().node(now.field())
	return a == nil || b == nil || says(a, true) != says(b, true) || remarks(a) != remarks(b)
}

// entryUnknown reports whether the list that a key lies in has entries there that may be the one it is of.
func entryUnknown(key string, theirs []named) bool {
	list, _, in := strings.Cut(key, "[")
	return in && slices.Contains(lists, list) &&
		slices.ContainsFunc(theirs, func(k named) bool { return strings.HasPrefix(k.key, list+"[new ") })
}
