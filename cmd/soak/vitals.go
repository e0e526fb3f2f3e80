package main

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"time"
)

// vitals prints each minute what the program holds.
type vitals struct {
	p     *program
	began time.Time
}

func newVitals(p *program) *vitals {
	fmt.Println("minute  day  said  waiting  sent  starts  age s  rss MiB  heap MiB  goroutines  files  book MiB")
	return &vitals{p: p, began: time.Now()}
}

// tell prints one line.
func (v *vitals) tell(crowd []*home) error {
	said := 0
	for _, h := range crowd {
		said += len(h.said)
	}
	pid := v.p.cmd.Process.Pid
	rss := 0
	status, _ := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	for l := range strings.Lines(string(status)) {
		if kb, ok := strings.CutPrefix(l, "VmRSS:"); ok {
			rss, _ = strconv.Atoi(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(kb), "kB")))
		}
	}
	files, err := os.ReadDir(fmt.Sprintf("/proc/%d/fd", pid))
	if err != nil {
		return fmt.Errorf("the program ended by itself: %w", err)
	}
	var goroutines, heap int
	told, _ := os.ReadFile(v.p.path + ".vitals")
	fmt.Sscan(string(told), &goroutines, &heap)
	size := int64(0)
	if st, err := os.Stat(v.p.path); err == nil {
		size = st.Size()
	}
	sent := len(v.p.s.CallsOf("sendMessage"))
	fmt.Printf("%6.1f %4.0f %5d %8d %5d %7d %6.0f %8.1f %9.1f %11d %6d %9.1f\n", time.Since(v.began).Minutes(), v.p.now().Sub(shown).Hours()/24,
		said, v.p.s.Waiting(), sent, v.p.starts, time.Since(v.p.born).Seconds(), float64(rss)/1024, float64(heap)/(1<<20), goroutines, len(files), float64(size)/(1<<20))
	return nil
}
