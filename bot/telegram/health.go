package telegram

import (
	"fmt"
	"net/http"
	"time"

	"mustbook/store"
)

// healthPage answers a watchdog's look: 200 while the platform was heard within
// three minutes (or a webhook waits) and the database answers, else 503. It tells
// numbers only.
func (b *tg) healthPage(w http.ResponseWriter, r *http.Request) {
	pending := int64(0)
	err := b.cfg.DB.View(r.Context(), func(tx *store.Tx) (err error) { pending, err = tx.PendingInbox(); return err })
	b.mu.Lock()
	quiet := b.cfg.Now().Sub(b.heardAt)
	b.mu.Unlock()
	status := http.StatusOK
	if err != nil || b.cfg.Webhook.URL == "" && quiet > 3*time.Minute {
		status = http.StatusServiceUnavailable
	}
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	w.WriteHeader(status)
	fmt.Fprintf(w, "database %v\nwaiting %d\nlast poll %d s ago\n", err == nil, pending, int64(quiet.Seconds()))
}
