package telegram

import (
	"fmt"
	"net"
	"net/http"
	"os"
	"slices"
	"testing"

	"mustbook/bot/telegram/loopback"
	"mustbook/store"
)

// freePort is an address of this machine that nobody listens on.
func freePort(t *testing.T) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	return l.Addr().String()
}

// TestStormThroughTheWebhook ends the program at each place between a post and its
// 200, and beyond. The platform posts again what it got no 200 for.
func TestStormThroughTheWebhook(t *testing.T) {
	w := serving(t, loopback.Options{}, "MUSTBOOK_KEEPER_CODE="+hostCode)
	addr, watch := freePort(t), freePort(t)
	w.args = []string{"--webhook-url", "https://cellar.example/hook", "--listen", addr, "--health", watch}
	// up starts a run, and waits until the platform knows its secret.
	up := func() string {
		os.WriteFile(w.path+".kill", nil, 0o600)
		_, before := w.s.Webhook()
		w.start()
		secret := ""
		w.s.Wait(t, "the webhook", func() bool { _, secret = w.s.Webhook(); return secret != "" && secret != before })
		return secret
	}
	// strike is a run that ends itself at a point; what it left before may bring it there
	// before the platform knows its secret.
	strike := func(point string, post func(secret string)) {
		os.WriteFile(w.path+".kill", []byte(point), 0o600)
		_, before := w.s.Webhook()
		w.start()
		ended := make(chan struct{})
		go func() { defer w.s.Wake(); defer close(ended); w.cmd.Wait() }()
		secret := ""
		w.s.Wait(t, "the webhook", func() bool {
			select {
			case <-ended:
				return true
			default:
				_, secret = w.s.Webhook()
				return secret != "" && secret != before
			}
		})
		if secret != before {
			post(secret)
		}
		<-ended
		w.cmd = nil
	}
	// post delivers until all is taken or the program has ended.
	post := func(secret string) {
		for w.s.Waiting() > 0 {
			if _, err := w.s.Deliver(t.Context(), "http://"+addr+"/hook", secret); err != nil {
				return
			}
		}
	}
	nora := w.s.Person("nora")
	nora.Start(hostCode)
	c := nora.Private()
	post(up())
	c.WaitBot(t, 1)
	nora.Say(c, "new damson 23 l")
	_, secret := w.s.Webhook()
	post(secret)
	c.WaitBot(t, 2)
	if res, err := http.Get("http://" + watch); err != nil || res.StatusCode != http.StatusOK {
		t.Errorf("the watchdog's page: %v %v", res, err)
	}
	w.stop()
	var ids []int
	for _, p := range []string{"before inbox commit", "after inbox commit", "before work commit", "after work commit", "before send", "after send"} {
		for range 3 {
			ids = append(ids, nora.Say(c, "damson sg 1.050 at 20c"))
		}
		strike(fmt.Sprint("2 ", p), post)
	}
	post(up())
	w.s.Wait(t, "an answer or a sign to each", func() bool {
		answered := map[int]bool{}
		for _, m := range c.Messages() {
			if m.From == loopback.BotID {
				answered[m.ReplyTo] = true
			} else if len(m.Reactions) > 0 {
				answered[m.ID] = true
			}
		}
		return !slices.ContainsFunc(ids, func(id int) bool { return !answered[id] })
	})
	w.book(func(tx *store.Tx) error {
		last := int64(0)
		for _, id := range ids {
			m, err := tx.MessageByKey(c.ID, int64(id))
			if err != nil {
				t.Errorf("message %d is lost: %v", id, err)
				continue
			}
			es, err := tx.EntriesOfMessage(1, m.ID)
			if err != nil || len(es) != 2 || es[0].ID < last {
				t.Errorf("message %d made %d entries, in order %v (%v)", id, len(es), len(es) > 0 && es[0].ID > last, err)
			} else {
				last = es[0].ID
			}
		}
		return nil
	})
}
