package store

import "reflect"

// zeroFields names the fields of a struct that hold their zero value.
func zeroFields(v any) []string {
	var names []string
	r := reflect.ValueOf(v)
	for i := range r.NumField() {
		if r.Field(i).IsZero() {
			names = append(names, r.Type().Field(i).Name)
		}
	}
	return names
}
