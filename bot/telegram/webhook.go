package telegram

import (
	"context"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/json"
	"io"
	"net/http"
	"time"
)

// maxUpdate bounds the body of one webhook call; an update with a long text, its
// entities and the message replied to stays far below.
const maxUpdate = 1 << 20

// setHook tells the platform the address until it listens. One connection at a time
// keeps the order; nothing that waits is dropped.
func (b *tg) setHook(ctx context.Context) {
	params := map[string]any{"url": b.cfg.Webhook.URL, "secret_token": b.cfg.Webhook.Secret, "allowed_updates": kinds, "max_connections": 1}
	for wait := time.Second; ; wait = min(2*wait, time.Minute) {
		err := b.call(ctx, "setWebhook", params, nil)
		if err == nil || ctx.Err() != nil {
			return
		}
		b.cfg.Log.Warn("the webhook could not be set; I try again", "error", b.redact(err))
		if !pause(ctx, wait) {
			return
		}
	}
}

// posted is one call of the platform: 200 only after the commit, so that what was
// not stored is posted again.
func (b *tg) posted(w http.ResponseWriter, r *http.Request) {
	if !sameSecret(r.Header.Get("X-Telegram-Bot-Api-Secret-Token"), b.cfg.Webhook.Secret) {
		http.Error(w, "forbidden", http.StatusForbidden)
		return
	}
	if r.Method != http.MethodPost {
		http.Error(w, "post only", http.StatusMethodNotAllowed)
		return
	}
	body, err := io.ReadAll(http.MaxBytesReader(w, r.Body, maxUpdate))
	if err != nil {
		http.Error(w, "too large or cut", http.StatusRequestEntityTooLarge)
		return
	}
	if !json.Valid(body) {
		http.Error(w, "not JSON", http.StatusBadRequest)
		return
	}
	if _, err := b.keep(r.Context(), []json.RawMessage{body}, 0); err != nil {
		b.cfg.Log.Error("webhook: not stored", "error", b.redact(err))
		http.Error(w, "not stored", http.StatusServiceUnavailable)
		return
	}
	w.WriteHeader(http.StatusOK)
}

// sameSecret compares in constant time, whatever the lengths.
func sameSecret(got, want string) bool {
	a, b := sha256.Sum256([]byte(got)), sha256.Sum256([]byte(want))
	return subtle.ConstantTimeCompare(a[:], b[:]) == 1
}
