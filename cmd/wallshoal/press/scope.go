package press

import (
	"context"
	"io"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/folder"
	"wallshoal/export/holemap"
	"wallshoal/export/scope"
	"wallshoal/export/scopepage"
	"wallshoal/export/tiling"
)

// Scoped counts the work.
func (p *Press) Scoped() (scope.Scope, error) {
	s, err := scope.Of(p.Work)
	if err != nil {
		return s, err
	}
	return p.beside(s.Appraised(p.asked, p.found).Installed(p.Work, p.stands).Cut(p.sheets()).Made(p.Made)), nil
}

// ScopeFiles returns the scope for programs and for people.
func (p *Press) ScopeFiles(ctx context.Context) []folder.File {
	write := func(as func(io.Writer, scope.Scope) error) func(io.Writer) error {
		return func(out io.Writer) error {
			s, err := p.Scoped()
			if err != nil {
				return err
			}
			return as(out, s)
		}
	}
	return []folder.File{
		{Name: "scope.json", Write: write(scope.WriteJSON)},
		{Name: "scope.md", Write: write(func(out io.Writer, s scope.Scope) error { return scope.WriteMarkdown(out, p.Work, s) })},
		{Name: "scope.pdf", Write: p.PDF(ctx, "scope", func(c draw.Canvas, w holemap.Work, print tiling.Print) error {
			s, err := p.Scoped()
			if err != nil {
				return err
			}
			size := drafting.ReadingSize(print.Paper)
			options, err := p.inserts(size)
			if err != nil {
				return err
			}
			return scopepage.Draw(c, w, s, p.Made, size, options...)
		})},
	}
}
