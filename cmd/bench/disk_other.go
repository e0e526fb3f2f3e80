//go:build !linux

package main

import "errors"

func offMemory(string) error { return errors.ErrUnsupported }

func input() (times, bytes int64, err error) { return 0, 0, errors.ErrUnsupported }
