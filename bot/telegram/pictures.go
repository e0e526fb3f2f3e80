package telegram

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"time"

	"mustbook/bot/photo"
	"mustbook/store"
)

// fetcher downloads the photos that entries speak of, until ctx ends. It can be
// repeated: the file id stands in the book until the picture does.
func (b *tg) fetcher(ctx context.Context) {
	for wait := time.Duration(0); ; {
		var todo []store.Photo
		err := b.cfg.DB.View(ctx, func(tx *store.Tx) (err error) { todo, err = tx.PhotosToFetch(5); return err })
		for _, p := range todo {
			if err == nil {
				err = b.fetch(ctx, p)
			}
		}
		switch {
		case ctx.Err() != nil:
			return
		case err != nil:
			wait = min(max(2*wait, time.Second), 5*time.Minute)
			b.cfg.Log.Warn("a photo could not be fetched yet", "error", b.redact(err))
			if !pause(ctx, wait) {
				return
			}
		case len(todo) == 0:
			select {
			case <-b.pictures:
			case <-ctx.Done():
				return
			}
		default:
			wait = 0
		}
	}
}

// fetch gets one photo, looks at it, and keeps it. A picture that can never be
// had or read is ended, not tried for ever.
func (b *tg) fetch(ctx context.Context, p store.Photo) error {
	data, err := b.download(ctx, p.FileID)
	switch c := code(err); {
	case c == 400 || c == 404:
		b.cfg.Log.Warn("a photo is no longer to be had", "photo", p.ID)
		data, err = nil, nil
	case err != nil:
		return err
	}
	// An entry already speaks of the photo: that nothing can be read of it is a fact to
	// be noted, not a reason to fail.
	seen, err := readPhoto(data)
	if err != nil {
		b.cfg.Log.Warn("a photo can't be read", "photo", p.ID, "error", b.redact(err))
	}
	format, text := "", ""
	if len(seen.Codes) > 0 {
		format, text = string(seen.Codes[0].Format), seen.Codes[0].Text
	}
	err = b.cfg.DB.Update(context.WithoutCancel(ctx), func(tx *store.Tx) error {
		p.JPEG, p.Barcode = append([]byte{}, seen.JPEG...), text // empty, not missing, where it can't be read
		if err := tx.SetPhoto(p.ID, p.JPEG, text); err != nil {
			return err
		}
		if b.cfg.Pictured == nil {
			return nil
		}
		return b.cfg.Pictured(ctx, tx, p, text, format)
	})
	nudge(b.cfg.Wake)
	return err
}

// readPhoto reads a picture; what makes the decoders stumble is no picture.
func readPhoto(data []byte) (p photo.Picture, err error) {
	defer func() {
		if r := recover(); r != nil {
			p, err = photo.Picture{}, stumble(r)
		}
	}()
	return photo.Read(data)
}

// download asks for the file's path and gets it. The link holds the token: it
// stays in here.
func (b *tg) download(ctx context.Context, fileID string) ([]byte, error) {
	ctx, cancel := context.WithTimeout(ctx, 2*time.Minute)
	defer cancel()
	var f struct {
		Path string `json:"file_path"`
		Size int64  `json:"file_size"`
	}
	if err := b.call(ctx, "getFile", map[string]string{"file_id": fileID}, &f); err != nil {
		return nil, err
	}
	if f.Size > photo.MaxBytes {
		return nil, &apiError{Method: "getFile", Code: 400, Description: "larger than 20 MB"}
	}
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, b.cfg.APIURL+"/file/bot"+b.cfg.Token+"/"+f.Path, nil)
	if err != nil {
		return nil, b.redact(err)
	}
	res, err := b.cfg.Client.Do(req)
	if err != nil {
		return nil, fmt.Errorf("download: %w", b.redact(err))
	}
	defer res.Body.Close()
	if res.StatusCode != http.StatusOK {
		return nil, &apiError{Method: "download", Code: res.StatusCode, Description: "of the file"}
	}
	data, err := io.ReadAll(io.LimitReader(res.Body, photo.MaxBytes+1))
	if err != nil {
		return nil, errors.Join(errors.New("download"), b.redact(err))
	}
	return data, nil
}
