//go:build storm

package telegram

import (
	"fmt"
	"os"
	"strings"
	"sync"
	"syscall"
)

// unpaced takes the pace off.
const unpaced = true

var points struct {
	sync.Mutex
	name string
	left int
}

// armed reads where this process is to end from a file beside the database: a
// count and the name of a point. Only in builds with the tag storm.
func armed(database string) {
	data, err := os.ReadFile(database + ".kill")
	if err != nil {
		return
	}
	points.Lock()
	defer points.Unlock()
	count, name, _ := strings.Cut(strings.TrimSpace(string(data)), " ")
	fmt.Sscan(count, &points.left)
	points.name = name
}

// passed ends the process, as kill -9 does, when it passes the point for the
// counted time.
func passed(name string) {
	points.Lock()
	defer points.Unlock()
	if name != points.name {
		return
	}
	if points.left--; points.left == 0 {
		syscall.Kill(syscall.Getpid(), syscall.SIGKILL)
		select {}
	}
}
