package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// arrows says which rooms of ours each room may open; a name ending in "/…" opens
// the rooms below too. A room that is not listed may open none.
var arrows = map[string][]string{
	"bot":              {"bot/parse", "bot/say", "bot/chart", "bot/report", "store", "schedule", "ferment/…"},
	"bot/parse":        {"ferment/…"},
	"bot/say":          {"ferment/…"},
	"bot/chart":        {"bot/letters", "ferment/…"},
	"bot/report":       {"bot/letters", "ferment/…"},
	"bot/telegram":     {"bot", "bot/say", "bot/photo", "store", "ferment/…"},
	"bot/console":      {"bot", "bot/say", "store", "ferment/…"},
	"bot/script":       {"bot", "bot/say", "store", "ferment/…"},
	"store":            {"ferment/…"},
	"schedule":         {"ferment/…"},
	"schedule/runner":  {"schedule", "store", "bot"},
	"ferment":          {"ferment/…"},
	"ferment/dose":     {"ferment/liquid"},
	"ferment/forecast": {"ferment/liquid"},
}

// banned names what only cmd may call; an empty list bans the whole package.
var banned = map[string][]string{
	"time":        {"Now", "LoadLocation", "Since", "Until"},
	"os":          {"Getenv", "LookupEnv", "Environ"},
	"crypto/rand": nil,
}

// seeded are the names of math/rand that need a generator or make one; all other
// functions draw from the process's own.
var seeded = []string{"Rand", "New", "NewPCG", "NewSource", "NewChaCha8", "NewZipf", "Source", "PCG", "ChaCha8", "Zipf"}

// exceptions are rooms that stand outside the bans, each with its reason.
var exceptions = map[string]string{
	"bot/telegram/loopback": "a server for tests, bench and soak, which mustbook never starts",
}

// source is one file of the tree that is not a test.
type source struct {
	room, path string
	file       *ast.File
}

func sources(t *testing.T) []source {
	t.Helper()
	var all []source
	root := filepath.Join("..", "..")
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "testdata" || d.Name() == ".git") {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		room, err := filepath.Rel(root, filepath.Dir(path))
		all = append(all, source{filepath.ToSlash(room), path, f})
		return err
	})
	if err != nil || len(all) < 50 {
		t.Fatalf("%d files, %v", len(all), err)
	}
	return all
}

func importPath(t *testing.T, s *ast.ImportSpec) string {
	t.Helper()
	p, err := strconv.Unquote(s.Path.Value)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// opens reports whether an allow-list lets a room in.
func opens(allowed []string, room string) bool {
	return slices.ContainsFunc(allowed, func(a string) bool {
		base, below := strings.CutSuffix(a, "/…")
		return room == base || below && strings.HasPrefix(room, base+"/")
	})
}

// TestArrows holds the one way in which imports run.
func TestArrows(t *testing.T) {
	for _, s := range sources(t) {
		if strings.HasPrefix(s.room, "cmd/") {
			continue
		}
		for _, i := range s.file.Imports {
			room, ours := strings.CutPrefix(importPath(t, i), "mustbook/")
			if ours && !opens(arrows[s.room], room) {
				t.Errorf("%s: %s must not open %s", s.path, s.room, room)
			}
		}
	}
}

// TestOneDoorEach holds each outside module to one room. A module is told from
// another by the first three parts of its path, or two where it has no more.
func TestOneDoorEach(t *testing.T) {
	doors := map[string]string{}
	for _, s := range sources(t) {
		if s.room == "cmd/bench" {
			continue // it measures the library's own loop beside ours
		}
		for _, i := range s.file.Imports {
			p := importPath(t, i)
			parts := strings.Split(p, "/")
			if !strings.Contains(parts[0], ".") {
				continue
			}
			n := 3
			if parts[0] == "modernc.org" || parts[0] == "pgregory.net" {
				n = 2
			}
			module := strings.Join(parts[:min(n, len(parts))], "/")
			if d, seen := doors[module]; seen && d != s.room {
				t.Errorf("%s is imported by %s and by %s", module, d, s.room)
			}
			doors[module] = s.room
		}
	}
	if len(doors) < 5 {
		t.Errorf("only %d outside modules found: %v", len(doors), doors)
	}
}

// TestBans keeps clock, environment and chance out of every room but cmd.
func TestBans(t *testing.T) {
	for _, s := range sources(t) {
		if strings.HasPrefix(s.room, "cmd/") || exceptions[s.room] != "" {
			continue
		}
		names := map[string]string{} // local name → package
		for _, i := range s.file.Imports {
			p := importPath(t, i)
			if list, ok := banned[p]; ok && list == nil {
				t.Errorf("%s imports %s", s.path, p)
			}
			local := filepath.Base(strings.TrimSuffix(p, "/v2"))
			if i.Name != nil {
				local = i.Name.Name
			}
			names[local] = strings.TrimSuffix(p, "/v2")
		}
		ast.Inspect(s.file, func(n ast.Node) bool {
			sel, ok := n.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			x, ok := sel.X.(*ast.Ident)
			if !ok {
				return true
			}
			p, name := names[x.Name], sel.Sel.Name
			if slices.Contains(banned[p], name) || p == "math/rand" && !slices.Contains(seeded, name) {
				t.Errorf("%s: %s.%s", s.path, p, name)
			}
			return true
		})
	}
}
