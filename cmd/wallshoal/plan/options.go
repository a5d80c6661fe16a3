package plan

import (
	"fmt"
	"reflect"
	"slices"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter"
	"wallshoal/scatter/density"
	"wallshoal/wall"
)

// OptionSection is one way of carrying out the plan, to be set beside the others. What it does not
// name is as the plan has it; one that names nothing is the plan as it is written.
//
//	name:     as in "light"; each option has its own; needed
//	count:    pieces in all
//	spacing:  least distance between the centres of two pieces
//	gap:      least distance between the outlines of two pieces; not where the plan has an overlap
//	density:  in place of the plan's, see DensitySection, or even for none. The plan's base stays where
//	          the option gives neither a base nor a count
//	walls:    a list of the walls that take pieces, the ceiling among them; no others then do
//	bare:     a list of walls, and of what stands on them, that take no pieces
//	counts:   of some kinds by the codes of the plan's pieces, exactly so many, like {G: 12}; 0 leaves
//	          them out
//	shares:   of some kinds, against the other shares, like {S: 6, N: 0}; 0 leaves them out
type OptionSection struct {
	Name        string
	Changes     []string // what is otherwise than in the plan, in words; none where nothing is
	OtherWalls  bool     // other walls take pieces, or other things that stand on them
	Room        wall.Room
	Kinds       []scatter.Kind
	Composition scatter.Composition // its count is 0 where the base of the density says it
}

// Limits of options.
const (
	MaxOptions    = 6  // so many stand side by side on a page
	maxOptionName = 24 // characters, over a column
)

// AsPlanned is what the plan as it is written is called beside its options.
const AsPlanned = "as planned"

// OptionField returns the name of an option, given its index, and of one of its keys where key is not
// empty. It and its count are among the lines of a plan.
func OptionField(i int, key string) string {
	if key != "" {
		key = "." + key
	}
	return fmt.Sprintf("options[%d]%s", i, key)
}

// With returns the plan as its option with the given index has it.
func (p Plan) With(i int) Plan {
	o := p.Options[i]
	p.Room, p.Kinds, p.Composition = o.Room, o.Kinds, o.Composition
	return p
}

// options reads the options of a plan that has been read so far. Each is checked as a plan of its own.
func (r *reader) options(v, composition yamlfile.Value, p Plan) []OptionSection {
	items, ok := v.List(MaxOptions, "a list of options, each starting with a dash")
	if ok && len(items) == 0 {
		v.Fault("has no option", "list one, or remove the line")
	}
	sound := !r.file.Faulty("room") && !r.file.Faulty("pieces") && !r.file.Faulty("composition")
	var out []OptionSection
	names := map[string]int{}
	for i, item := range items {
		m, ok := item.Map("name", "count", "spacing", "gap", "density", "walls", "bare", "counts", "shares")
		if !ok {
			continue
		}
		o := option{
			reader: r, plan: p, m: m, sound: sound,
			OptionSection: OptionSection{Room: p.Room, Kinds: p.Kinds, Composition: p.Composition},
		}
		o.asked, _ = composition.Map()
		o.name(names, i)
		o.walls()
		o.quotas()
		o.compose()
		o.judged()
		if name := m.Get("name"); len(o.Changes) > 0 && wall.FoldName(o.Name) == wall.FoldName(AsPlanned) && !r.file.Faulty(name.Field()) {
			name.Fault("is what the plan as it is written is called", "give it another name")
		}
		out = append(out, o.OptionSection)
	}
	return out
}

// An option is one option as it is read.
type option struct {
	*reader
	OptionSection
	plan  Plan
	m     yamlfile.Map
	asked yamlfile.Map // the composition of the plan
	sound bool         // the plan has no fault so far that would be told again
}

// changed notes what is otherwise than in the plan.
func (o *option) changed(format string, args ...any) {
	o.Changes = append(o.Changes, fmt.Sprintf(format, args...))
}

// name reads the name, and complains of one that another option has.
func (o *option) name(names map[string]int, i int) {
	name := o.m.Get("name")
	var ok bool
	if o.Name, ok = name.Need("give each option a name, like light").Text(maxOptionName); !ok {
		return
	}
	folded := wall.FoldName(o.Name)
	wrong, fix := wall.CheckName(o.Name)
	first, taken := names[folded]
	switch {
	case wrong != "":
		name.Fault(wrong, fix)
	case taken:
		name.Fault(fmt.Sprintf("%s is also the name of option %d", yamlfile.Quote(o.Name), first+1), "give each option a name of its own")
	default:
		names[folded] = i
	}
}

// compose reads what the option asks for in place of the plan's composition.
func (o *option) compose() {
	c := &o.Composition
	count := 0
	if given := o.m.Get("count"); given.Given() {
		if n, ok := given.Whole("a number of pieces", 1, MaxPieces); ok {
			count = n
		} else {
			o.sound = false
		}
	}
	if given := o.m.Get("spacing"); given.Given() {
		if mm := o.size(given, "a spacing"); mm > 0 && mm != c.Spacing {
			c.Spacing = mm
			o.changed("spacing %s", o.show(mm))
		}
	}
	if given := o.m.Get("gap"); given.Given() {
		mm := o.length(given, "a gap", 0, MaxLength, c.Gap)
		switch {
		case c.Overlap > 0:
			given.Fault("the plan has an overlap, which leaves no gap", "remove it")
		case mm != c.Gap:
			c.Gap = mm
			o.changed("gap %s", o.show(mm))
		}
	}
	o.dense(count)
	o.count(count)
}

// dense reads the density; count is what the option gives, 0 for none.
func (o *option) dense(count int) {
	c := &o.Composition
	given, base := o.m.Get("density"), c.Density.PerSquareMetre
	stage := o.stage(o.Room)
	switch {
	case given.Given() && !given.IsMap():
		if _, ok := given.Choice("a density", "even"); ok && c.Density.Field != nil {
			c.Density = density.Scheme{PerSquareMetre: base}
			o.changed("an even density")
		}
	case given.Given():
		m, ok := given.Map(densityKeys...)
		if !ok {
			return
		}
		c.Density = stage.density(m, count, c.Flow)
		if o.OtherWalls || !reflect.DeepEqual(c.Density.Field, o.plan.Composition.Density.Field) || c.Density.PerSquareMetre > 0 && c.Density.PerSquareMetre != base {
			o.changed("another density")
		}
		if c.Density.PerSquareMetre > 0 {
			c.Count = 0
		} else {
			c.Density.PerSquareMetre = base
		}
	case o.OtherWalls && o.sound && c.Density.Field != nil:
		// Fades and clumps go by the walls that take pieces.
		o.again(o.either("walls", "bare"), func() {
			m, _ := o.asked.Get("density").Map(densityKeys...)
			c.Density = stage.density(m, o.plan.Composition.Count, c.Flow)
		})
	}
}

// count finds the number of pieces; count is what the option gives, 0 for none.
func (o *option) count(count int) {
	c := &o.Composition
	switch {
	case count > 0:
		c.Count, c.Density.PerSquareMetre = count, 0
		if count != o.plan.Composition.Count {
			o.Changes = slices.Insert(o.Changes, 0, fmt.Sprintf("%d pieces", count)) // what is asked first
		}
	case c.Density.PerSquareMetre > 0 || o.asked.Get("count").Given() || !o.sound:
	default: // the counts of the kinds say it
		c.Count = 0
		for _, k := range o.Kinds {
			if k.Share > 0 {
				o.m.Get("count").Fault("is missing, now that not every kind has a count", "say how many pieces there are to be")
				o.sound = false
				return
			}
			c.Count += k.Count
		}
	}
}

// judged files what is wrong with the option as a plan of its own.
func (o *option) judged() {
	if !o.sound || o.file.Faulty(o.m.Field()) {
		return
	}
	if o.OtherWalls {
		for _, p := range o.Room.Check(o.units) {
			o.either("walls", "bare").Fault("with these walls, "+p.Field+": "+p.Wrong, p.Fix)
		}
	}
	for _, p := range o.Composition.Check(o.Kinds, o.units) {
		o.m.Get("count").Fault(p.Wrong, p.Fix)
	}
}

// either returns the value of the one key where it is given, else that of the other.
func (o *option) either(key, other string) yamlfile.Value {
	if v := o.m.Get(key); v.Given() {
		return v
	}
	return o.m.Get(other)
}

// again reads a part of the plan for the option, and files what is wrong with it now at the given value.
func (o *option) again(where yamlfile.Value, read func()) {
	for _, f := range o.file.Apart(read) {
		where.Fault("with these changes, "+f.Field+": "+f.Wrong, f.Fix)
	}
}
