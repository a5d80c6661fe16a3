package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/examples"
	"wallshoal/scatter"
)

// BenchmarkCommands times the commands on the demonstration, from reading the plan to the last
// file written.
func BenchmarkCommands(b *testing.B) {
	plan := written(b, examples.Ferry)
	for _, args := range [][]string{{"check", plan}, {"lay", plan}, {"scope", plan}, {"pack", plan, "-o", filepath.Join(b.TempDir(), "pack")}} {
		b.Run(args[0], func(b *testing.B) {
			for b.Loop() {
				var out, errs bytes.Buffer
				if code := run(args, strings.NewReader(""), &out, &errs); code != 0 {
					b.Fatal(fmt.Sprint(code, errs.String()))
				}
			}
		})
	}
}

// BenchmarkLayDemo times the composition alone, of a plan that is read and a site that is surveyed:
// the demonstration as it is, and without the parting of its flow.
func BenchmarkLayDemo(b *testing.B) {
	for name, text := range map[string]string{
		"parted": examples.Ferry, "plain": strings.Replace(examples.Ferry, "part: true", "part: false", 1),
	} {
		b.Run(name, func(b *testing.B) {
			j, err := job.ReadBeside("ferry.yaml", []byte(text), examples.Files)
			if err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				if _, err := scatter.Lay(context.Background(), j.Site, j.Plan.Kinds, j.Plan.Composition, j.Plan.Seed, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkTemplate2000 times the hole map of 2,000 pieces on A4, of a layout that is read, and what of
// it is printed again when one piece was moved.
func BenchmarkTemplate2000(b *testing.B) {
	dir := b.TempDir()
	plan, old, moved := filepath.Join(dir, "plan.yaml"), filepath.Join(dir, "old.yaml"), filepath.Join(dir, "moved.yaml")
	command := func(args ...string) {
		var out, errs bytes.Buffer
		if code := run(args, strings.NewReader(""), &out, &errs); code != 0 {
			b.Fatal(fmt.Sprint(args, code, errs.String()))
		}
	}
	text := `title: Two thousand
date: 2026-11-25
room:
  walls:
    - {name: Long wall, length: 16 m, height: 3 m, surface: plaster}
pieces:
  - name: Leaf
    code: A
    outline: {ellipse: [60, 20]}
    holes: [{at: [0, 0], bit: 2, depth: 25, fixing: pin}]
    stand-off: 10
composition: {count: 2000, spacing: 100}
`
	if err := os.WriteFile(plan, []byte(text), 0o600); err != nil {
		b.Fatal(err)
	}
	command("lay", plan, "-o", old)
	layout, err := os.ReadFile(old)
	if err != nil {
		b.Fatal(err)
	}
	if err := os.WriteFile(moved, []byte(strings.Replace(string(layout), "at: [1", "at: [0", 1)), 0o600); err != nil {
		b.Fatal(err)
	}
	for name, more := range map[string][]string{"all": {"--layout", old}, "since": {"--layout", moved, "--since", old}} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				command(append([]string{"template", plan, "--paper", "A4", "-o", filepath.Join(dir, "map.pdf"), "--replace"}, more...)...)
			}
		})
	}
}
