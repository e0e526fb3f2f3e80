package telegram

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"mustbook/bot/telegram/loopback"
	"mustbook/ferment"
	"mustbook/store"
)

// The storm: the real program, killed with SIGKILL again and again while people
// write. With -storm 500 messages in 5 chats and 20 kills, without it a breeze of
// the same kind that still meets every exact point. Afterwards no message may be
// lost or doubled in the book, the order of each chat is kept, each message has an
// answer or a sign, and no plain receipt stands twice.

var storms = flag.Bool("storm", false, "run the storms whole: 500 messages, 20 kills each")

// force is how hard a storm blows.
type force struct{ messages, kills int }

func forceNow() force {
	if *storms {
		return force{messages: 500, kills: 20}
	}
	return force{messages: 132, kills: 6}
}

// stormDir is where the program is built; TestMain removes it.
var stormDir string

func TestMain(m *testing.M) {
	dir, err := os.MkdirTemp("", "storm")
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	stormDir = dir
	status := m.Run()
	os.RemoveAll(dir)
	os.Exit(status)
}

// stormProgram is built once for all storms.
var stormProgram = sync.OnceValues(func() (string, error) {
	path := filepath.Join(stormDir, "mustbook")
	out, err := exec.Command("go", "build", "-tags", "storm", "-o", path, "mustbook/cmd/mustbook").CombinedOutput()
	if err != nil {
		return "", fmt.Errorf("%w: %s", err, out)
	}
	return path, nil
})

// storm is one run of it.
type storm struct {
	t     *testing.T
	force force
	s     *loopback.Server
	bin   string
	path  string
	rand  *rand.Rand
	nora  *loopback.User
	chats []*loopback.Chat
	ids   map[*loopback.Chat][]int
	sent  int
	mu    sync.Mutex
	proc  *exec.Cmd
	out   bytes.Buffer
	gone  chan error
}

func newStorm(t *testing.T, seed uint64) *storm {
	t.Helper()
	if testing.Short() {
		t.Skip("builds and kills the program")
	}
	bin, err := stormProgram()
	if err != nil {
		t.Fatal(err)
	}
	w := &storm{t: t, force: forceNow(), bin: bin, path: filepath.Join(t.TempDir(), "book.db"), rand: rand.New(rand.NewPCG(seed, 1)), ids: map[*loopback.Chat][]int{}}
	w.s = loopback.New(loopback.Options{CanRead: true})
	t.Cleanup(w.s.Close)
	t.Cleanup(w.kill)
	w.begin("")
	w.nora = w.s.Person("nora")
	w.nora.Start(hostCode)
	w.nora.Private().WaitBot(t, 1)
	w.chats = []*loopback.Chat{w.nora.Private()}
	for i := range 4 {
		g := w.s.Group(fmt.Sprint("Cellar ", i), w.nora)
		w.nora.AddBot(g)
		g.WaitBot(t, 1)
		w.chats = append(w.chats, g)
	}
	w.nora.Say(w.nora.Private(), "new damson 23 l")
	w.nora.Private().WaitBot(t, 2)
	w.kill()
	return w
}

// begin starts the program; point is where it is to end, "" for nowhere.
func (w *storm) begin(point string) {
	w.t.Helper()
	os.WriteFile(w.path+".kill", []byte(point), 0o600)
	cmd := exec.Command(w.bin, "serve")
	cmd.Env = append(os.Environ(), "MUSTBOOK_DB="+w.path, "TELEGRAM_API_URL="+w.s.URL(), "TELEGRAM_BOT_TOKEN="+loopback.Token, "MUSTBOOK_KEEPER_CODE="+hostCode)
	cmd.Stdout, cmd.Stderr = &w.out, &w.out
	if err := cmd.Start(); err != nil {
		w.t.Fatal(err)
	}
	gone := make(chan error, 1)
	go func() { gone <- cmd.Wait() }()
	w.mu.Lock()
	w.proc, w.gone = cmd, gone
	w.mu.Unlock()
}

// strike kills the process without waiting for it.
func (w *storm) strike() {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.proc != nil {
		w.proc.Process.Kill()
	}
}

// kill kills and reaps.
func (w *storm) kill() {
	if w.proc == nil {
		return
	}
	w.strike()
	<-w.gone
	w.proc = nil
}

// await waits for the struck process to end.
func (w *storm) await() {
	w.t.Helper()
	latest := time.AfterFunc(2*time.Second, w.strike)
	defer latest.Stop()
	<-w.gone
}

// say sends n messages, each to a chat chosen at random.
func (w *storm) say(n int) {
	for range n {
		if w.sent == w.force.messages {
			return
		}
		c := w.chats[w.rand.IntN(len(w.chats))]
		w.sent++
		w.ids[c] = append(w.ids[c], w.nora.Say(c, "damson sg 1.050 at 20c"))
	}
}

// unanswered are the messages without an answer or a sign.
func (w *storm) unanswered() []string {
	var out []string
	for _, c := range w.chats {
		answered := map[int]bool{}
		for _, m := range c.Messages() {
			if m.From == loopback.BotID {
				answered[m.ReplyTo] = true
			} else if len(m.Reactions) > 0 {
				answered[m.ID] = true
			}
		}
		for _, id := range w.ids[c] {
			if !answered[id] {
				out = append(out, c.Title+": "+c.Message(id).Text)
			}
		}
	}
	return out
}

func (w *storm) settled() bool { return w.s.Waiting() == 0 && len(w.unanswered()) == 0 }

// check reads the book and the chats after the storm.
func (w *storm) check() {
	w.t.Helper()
	w.say(w.force.messages) // what was not said yet
	w.begin("")
	ctx, cancel := context.WithTimeout(w.t.Context(), 3*time.Minute) // a busy machine must not look like a lost message
	defer cancel()
	if err := w.s.Until(ctx, w.settled); err != nil {
		missing := len(w.unanswered())
		w.proc.Process.Signal(syscall.SIGQUIT) // it tells what it is waiting for
		<-w.gone
		w.proc = nil
		w.t.Fatalf("%d of %d messages got no answer and no sign; the program said:\n%s", missing, w.sent, w.out.String())
	}
	w.proc.Process.Signal(syscall.SIGTERM)
	if err := <-w.gone; err != nil {
		w.t.Errorf("SIGTERM: %v\n%s", err, w.out.String())
	}
	w.proc = nil
	db, err := store.Open(w.t.Context(), w.path, store.Options{Rand: seeded(1)})
	if err != nil {
		w.t.Fatal(err)
	}
	defer db.Close()
	if err := db.View(w.t.Context(), w.checkBook); err != nil {
		w.t.Fatal(err)
	}
}

func (w *storm) checkBook(tx *store.Tx) error {
	lost, doubled, disorder := 0, 0, 0
	for _, c := range w.chats {
		last := int64(0)
		for _, id := range w.ids[c] {
			m, err := tx.MessageByKey(c.ID, int64(id))
			if err != nil {
				lost++
				w.t.Logf("lost in %s: message %d, %v; said: %q", c.Title, id, err, answersTo(c, id))
				continue
			}
			es, err := tx.EntriesOfMessage(1, m.ID)
			if err != nil {
				return err
			}
			kinds := map[ferment.Quantity]int{}
			for _, e := range es {
				kinds[e.Quantity]++
			}
			switch {
			case len(es) == 0:
				lost++
				w.t.Logf("nothing of message %d in %s; said: %q", id, c.Title, answersTo(c, id))
			case len(kinds) < len(es):
				doubled++
			case es[0].ID < last:
				disorder++
			}
			if len(es) > 0 {
				last = es[0].ID
			}
		}
	}
	readings := 0
	err := tx.EachEntry(1, func(r store.EntryRow) error {
		if r.Quantity == ferment.QSG {
			readings++
		}
		return nil
	})
	if err != nil {
		return err
	}
	if lost+doubled+disorder > 0 || readings != w.force.messages {
		w.t.Errorf("of %d messages %d lost, %d doubled, %d out of order; the book holds %d readings", w.sent, lost, doubled, disorder, readings)
	}
	return w.checkAnswers(tx)
}

// answersTo are the bot's answers to a message.
func answersTo(c *loopback.Chat, id int) (out []string) {
	for _, m := range c.FromBot() {
		if m.ReplyTo == id {
			out = append(out, m.Text)
		}
	}
	return out
}

// checkAnswers looks for plain receipts that stand twice, and at their order.
func (w *storm) checkAnswers(tx *store.Tx) error {
	signs, twice, disorder := 0, 0, 0
	for _, c := range w.chats {
		chat, err := tx.ChatByPlatform(platform, c.ID)
		if err != nil {
			return err
		}
		outs, err := tx.RecentOut(chat.ID, 10*w.force.messages)
		if err != nil {
			return err
		}
		plain := map[int64]string{}
		for _, o := range outs {
			if o.Plain && o.Kind == "reply" {
				plain[o.ReplyTo] = o.Text
			}
		}
		stands, last := map[int]int{}, 0
		for _, m := range c.Messages() {
			if len(m.Reactions) > 0 {
				signs++
			}
			if m.From != loopback.BotID || m.ReplyTo == 0 || plain[int64(m.ReplyTo)] == "" || !strings.HasSuffix(m.Text, plain[int64(m.ReplyTo)]) {
				continue
			}
			if stands[m.ReplyTo]++; stands[m.ReplyTo] > 1 {
				twice++
			}
			if m.ReplyTo < last {
				disorder++
			}
			last = m.ReplyTo
		}
	}
	w.t.Logf("%d messages, %d got a sign instead of an answer", w.sent, signs)
	if twice+disorder > 0 {
		w.t.Errorf("%d plain receipts stand twice, %d answers out of order", twice, disorder)
	}
	return nil
}

// chance is a kill at a random moment: after some call of the program, before or
// after it is done, or some time later; in its sleep where it does not call so
// often.
func (w *storm) chance() {
	left := 1 + w.rand.IntN(25)
	how := w.rand.IntN(3)
	after := time.Duration(w.rand.IntN(30_000)) * time.Microsecond
	var mu sync.Mutex
	w.s.OnCall(func(c loopback.Call) *loopback.Fault {
		mu.Lock()
		defer mu.Unlock()
		if left--; left != 0 {
			return nil
		}
		switch how {
		case 0:
			w.strike()
		case 1:
			defer w.strike()
			return &loopback.Fault{Lost: true}
		case 2:
			time.AfterFunc(after, w.strike)
		}
		return nil
	})
}

func TestStormBacklog(t *testing.T) {
	w := newStorm(t, 1)
	for range w.force.kills {
		w.say(w.force.messages / w.force.kills)
		w.chance()
		w.begin("")
		w.await()
	}
	w.s.Mend()
	w.check()
}

func TestStormTrickle(t *testing.T) {
	w := newStorm(t, 2)
	var mu sync.Mutex
	feed := func() { mu.Lock(); w.say(1); mu.Unlock() }
	for range w.force.kills {
		stop := make(chan struct{})
		done := make(chan struct{})
		w.chance()
		w.begin("")
		go func() { // one more whenever the platform sees the program
			defer close(done)
			for n := 0; n < 2*w.force.messages/w.force.kills; n++ {
				polls := w.s.Polls()
				feed()
				select {
				case <-stop:
					return
				default:
				}
				w.s.Until(t.Context(), func() bool {
					select {
					case <-stop:
						return true
					default:
						return w.s.Polls() > polls
					}
				})
			}
		}()
		w.await()
		close(stop)
		w.s.Wake()
		<-done
	}
	w.s.Mend()
	w.check()
}

// places are the exact points in the program itself.
var places = []string{"before poll", "after delivery", "before inbox commit", "after inbox commit", "after attempts commit",
	"before work commit", "after work commit", "before send commit", "after send commit", "before send", "after send"}

// moments are the exact points that only the platform sees: a call that has come and
// is not done yet, and one that is done and whose answer is lost. The second poll of a
// run is the one that confirms.
var moments = []struct {
	method string
	nth    int
	done   bool
}{{"sendMessage", 1, false}, {"sendMessage", 1, true}, {"sendMessage", 3, true}, {"getUpdates", 1, true}, {"getUpdates", 2, false}, {"getUpdates", 2, true}}

// TestStormAtEveryPoint ends the program at each of them, twice each, while a backlog
// waits.
func TestStormAtEveryPoint(t *testing.T) {
	w := newStorm(t, 3)
	some := w.force.messages / (len(places) + len(moments)) / 2
	for round := range 2 {
		for _, p := range places {
			w.say(some)
			if p == "after attempts commit" { // only rows of the run before are counted
				w.begin("1 after inbox commit")
				<-w.gone
			}
			count := 1
			if strings.Contains(p, "send") { // passed many times a run
				count += 2 * round
			}
			w.begin(fmt.Sprint(count, " ", p))
			w.waitKilled(p)
		}
		for _, m := range moments {
			w.say(max(some, m.nth))
			w.when(m.method, m.nth, m.done)
			w.begin("")
			w.waitKilled(fmt.Sprint(m))
			w.s.Mend()
		}
	}
	w.check()
}

// when kills at the nth call of a method: before it is done, or after it.
func (w *storm) when(method string, nth int, done bool) {
	var mu sync.Mutex
	w.s.OnCall(func(c loopback.Call) *loopback.Fault {
		mu.Lock()
		defer mu.Unlock()
		if c.Method != method {
			return nil
		}
		if nth--; nth != 0 {
			return nil
		}
		if !done {
			w.strike()
			return &loopback.Fault{Cut: true}
		}
		defer w.strike()
		return &loopback.Fault{Lost: true}
	})
}

// waitKilled waits for the program to end at its point; one that is not reached
// any more, since everything is done, is no failure of the program.
func (w *storm) waitKilled(point string) {
	w.t.Helper()
	timer := time.NewTimer(time.Minute)
	defer timer.Stop()
	select {
	case err := <-w.gone:
		var exit *exec.ExitError
		if e, is := err.(*exec.ExitError); is {
			exit = e
		}
		if exit == nil || !slices.Contains([]int{-1}, exit.ExitCode()) {
			w.t.Fatalf("at %q it ended by itself: %v\n%s", point, err, w.out.String())
		}
	case <-timer.C:
		w.t.Errorf("%q was not passed", point)
		w.kill()
	}
}
