package parse

import (
	"bufio"
	"fmt"
	"os"
	"strings"
	"testing"
)

func TestTry(t *testing.T) {
	f, err := os.Open(os.Getenv("TRY"))
	if err != nil {
		t.Skip()
	}
	cs := contexts()
	ctx := cs["gorse"]
	sc := bufio.NewScanner(f)
	for sc.Scan() {
		l := sc.Text()
		if strings.HasPrefix(l, "[") {
			ctx = cs[strings.Trim(l, "[]")]
			fmt.Println(l)
			continue
		}
		if l == "" {
			continue
		}
		in := Message(strings.ReplaceAll(l, `\n`, "\n"), ctx)
		var es []string
		for _, e := range in.Entries {
			s := e.line()
			es = append(es, s)
		}
		held := ""
		if len(in.Held) > 0 {
			held = " HELD"
			for _, e := range in.Held {
				held += " " + e.line() + ","
			}
		}
		for _, o := range in.Options {
			held += " (" + o.Label + ")"
		}
		fmt.Printf("%-55s %s %s%s%s%s %s [%s]%s\n", l, in.Kind, in.Event, in.Action, in.Topic, in.Ask, in.Why, strings.Join(es, "; "), held)
	}
}
