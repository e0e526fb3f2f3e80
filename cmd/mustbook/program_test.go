package main

import (
	"bytes"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"syscall"
	"testing"

	_ "modernc.org/sqlite"
)

// TestMain is the program itself where a test asks for that: so the race detector
// watches it too, and nothing has to be built twice.
func TestMain(m *testing.M) {
	if os.Getenv("TEST_ROLE") != "mustbook" {
		os.Exit(m.Run())
	}
	if n, err := strconv.ParseUint(os.Getenv("TEST_LIMIT"), 10, 64); err == nil {
		limit := syscall.Rlimit{Cur: n, Max: n}
		if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(3)
		}
	}
	main()
}

// mustbook is a command of the program; no file of it may grow beyond limit bytes, 0 for
// any size.
func mustbook(limit int64, args ...string) *exec.Cmd {
	c := exec.Command(os.Args[0], args...)
	c.Env = append(os.Environ(), "TEST_ROLE=mustbook", "MUSTBOOK_TZ=Europe/Dublin")
	if limit > 0 {
		c.Env = append(c.Env, fmt.Sprint("TEST_LIMIT=", limit))
	}
	return c
}

// ended is how a run of the program ended.
type ended struct {
	out, err string
	code     int
}

// mustRun runs the program to its end with a text on its standard input.
func mustRun(t *testing.T, in string, args ...string) ended {
	t.Helper()
	return mustEnd(t, mustbook(0, args...), in)
}

func mustEnd(t *testing.T, c *exec.Cmd, in string) ended {
	t.Helper()
	var out, errs bytes.Buffer
	c.Stdin, c.Stdout, c.Stderr = strings.NewReader(in), &out, &errs
	var exit *exec.ExitError
	if err := c.Run(); err != nil && !errors.As(err, &exit) {
		t.Fatal(err)
	}
	return ended{out.String(), errs.String(), c.ProcessState.ExitCode()}
}

// held is a database locked as another program may lock it, until release.
func held(t *testing.T, path, begin string) (release func()) {
	t.Helper()
	db, err := sql.Open("sqlite", "file:"+path+"?_pragma=busy_timeout(30000)")
	if err != nil {
		t.Fatal(err)
	}
	db.SetMaxOpenConns(1)
	if _, err := db.Exec(begin); err != nil {
		t.Fatal(err)
	}
	return func() {
		if err := db.Close(); err != nil {
			t.Error(err)
		}
	}
}
