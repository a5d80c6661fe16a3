package plan

import (
	"fmt"
	"slices"
	"strings"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/export/decimal"
	"wallshoal/export/making"
	"wallshoal/export/nesting"
	"wallshoal/scatter"
)

// SheetSection is what some kinds of pieces are cut from.
//
//	name:    as in "grey card 300 g"; needed
//	size:    [width, height] of a sheet, its grain along the width; needed
//	cuts:    a list of codes of the kinds that are cut from it, each from one stock only; needed
//	turn:    how a piece may be turned against how it is drawn, heading along the width: any, quarter
//	         (by 90° steps), half (by 180°) or none; any if left out
//	gap:     least distance between two pieces; 3 mm if left out
//	margin:  that pieces keep from the edges; 10 mm if left out
//	price:   of a sheet, like 1.85
type SheetSection = making.Sheets

const (
	maxStocks          = 20
	defaultCutGap      = 3.0  // mm
	defaultSheetMargin = 10.0 // mm
)

// sheets reads what pieces are cut from, and checks it against the kinds.
func (r *reader) sheets(v yamlfile.Value, kinds []scatter.Kind) []SheetSection {
	items, _ := v.List(maxStocks, "a list of stocks, each starting with a dash")
	out := make([]SheetSection, len(items))
	names, from := map[string]bool{}, map[string]string{}
	for i, item := range items {
		out[i] = r.stock(item, kinds)
		s := &out[i]
		if names[s.Name] && s.Name != "" {
			item.Fault(yamlfile.Quote(s.Name)+" is the name of another stock already", "give each a name of its own")
		}
		names[s.Name] = true
		for j, code := range s.Cuts {
			if other, cut := from[code]; cut {
				r.file.Fault(fmt.Sprintf("%s.cuts[%d]", item.Field(), j), yamlfile.Quote(code)+" is cut from "+yamlfile.Quote(other)+" already", "cut each kind from one stock")
			}
			from[code] = s.Name
		}
		if !r.file.Faulty(item.Field()) && !r.file.Faulty("pieces") {
			r.judge(nesting.Check(item.Field(), s.Stock, s.Parts(kinds, map[string]int{}), r.units))
		}
	}
	return out
}

func (r *reader) stock(v yamlfile.Value, kinds []scatter.Kind) SheetSection {
	s := SheetSection{Stock: nesting.Stock{Turn: nesting.Any}}
	m, ok := v.Map("name", "size", "cuts", "turn", "gap", "margin", "price")
	if !ok {
		return s
	}
	s.Name, _ = m.Get("name").Need("give the stock a name").Text(maxTitle)
	if size, ok := r.coordinates(m.Get("size").Need("give the sheet's [width, height]"), 2, nesting.MinSide, nesting.MaxSide); ok {
		s.Width, s.Height = size[0], size[1]
	}
	cuts := m.Get("cuts").Need("list the codes of the kinds that are cut from it, like [A, B]")
	s.Cuts = r.codes(cuts, kinds)
	if turn, ok := m.Get("turn").Choice("a rule for turning", texts(nesting.Turns())...); ok {
		s.Turn = nesting.Turn(turn)
	}
	s.Gap = r.length(m.Get("gap"), "a gap between cuts", 0, nesting.MaxGap, defaultCutGap)
	s.Margin = r.length(m.Get("margin"), "a margin of a sheet", 0, nesting.MaxSide, defaultSheetMargin)
	s.Price = readMoney(m.Get("price"))
	return s
}

// codes reads a list of codes of kinds.
func (r *reader) codes(v yamlfile.Value, kinds []scatter.Kind) []string {
	items, _ := v.List(MaxKinds, "a list of codes, like [A, B]")
	known := make([]string, len(kinds))
	for i, k := range kinds {
		known[i] = k.Code
	}
	var out []string
	for _, item := range items {
		code, ok := item.Text(maxTitle)
		if ok && !slices.Contains(known, code) && !r.file.Faulty("pieces") {
			item.Fault(yamlfile.Quote(code)+" is no kind of piece", "write one of "+strings.Join(known, ", "))
		}
		if ok && slices.Contains(out, code) {
			item.Fault(yamlfile.Quote(code)+" is given twice", "keep one of them")
		}
		out = append(out, code)
	}
	return out
}

// readDecimal reads an exact number of 0 or more; false where there is none or a wrong one.
func readDecimal(v yamlfile.Value, noun, like string) (decimal.Number, bool) {
	text, ok := v.Text(maxTitle)
	if !ok {
		return decimal.Number{}, false
	}
	n, err := decimal.Parse(text)
	if err != nil || n.Sign() < 0 {
		v.Fault(yamlfile.Quote(text)+" is not "+noun, "give a number of 0 or more with a point before decimals, like "+like)
		return decimal.Number{}, false
	}
	return n, true
}

// readMoney reads a price; nil where there is none or a wrong one.
func readMoney(v yamlfile.Value) *decimal.Number {
	if n, ok := readDecimal(v, "a sum of money", "12.50"); ok {
		return &n
	}
	return nil
}

// readExactShare reads a share of 0 or more, exactly, as 0.1 or 10 %; 0 where there is none or a wrong one.
func readExactShare(v yamlfile.Value, noun string) decimal.Number {
	text, ok := v.Text(maxTitle)
	if !ok {
		return decimal.Number{}
	}
	digits, percent := strings.CutSuffix(text, "%")
	n, err := decimal.Parse(digits)
	if percent {
		n = n.Div(decimal.Of(100))
	}
	if err != nil || n.Sign() < 0 || n.Cmp(decimal.Of(10)) > 0 {
		v.Fault(yamlfile.Quote(text)+" is not "+noun, "give a number of 0 or more, or per cent, like 10 %")
		return decimal.Number{}
	}
	return n
}
