package main

import (
	"archive/zip"
	"bytes"
	"io"
	"time"
)

// bundle is several files as one stream, for a pipe: the first goes through as it is
// written, the others, which are short, wait for its end.
type bundle struct {
	zip   *zip.Writer
	at    time.Time
	begun bool
}

func newBundle(w io.Writer, at time.Time) *bundle { return &bundle{zip: zip.NewWriter(w), at: at} }

// create begins a file of the bundle. All have to be closed before the bundle is.
func (b *bundle) create(name string) (io.WriteCloser, error) {
	if b.begun {
		return &waiting{in: b, name: name}, nil
	}
	b.begun = true
	w, err := b.file(name)
	return through{w}, err
}

func (b *bundle) file(name string) (io.Writer, error) {
	return b.zip.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: b.at})
}

// through is a file that goes through as it is written.
type through struct{ io.Writer }

func (through) Close() error { return nil }

// waiting is a file that is put into the bundle at its end.
type waiting struct {
	bytes.Buffer
	in   *bundle
	name string
}

func (f *waiting) Close() error {
	w, err := f.in.file(f.name)
	if err != nil {
		return err
	}
	_, err = w.Write(f.Bytes())
	return err
}
