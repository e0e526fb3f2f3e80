package parse

import (
	_ "embed"
	"strings"
)

//go:embed zones.txt
var zoneFile string

// zones are the names of the time zones by their cities and other places, folded.
var zones = func() map[string]string {
	by := map[string]string{}
	for _, l := range strings.Split(zoneFile, "\n") {
		name, more, _ := strings.Cut(l, ": ")
		if name == "" || name[0] == '#' {
			continue
		}
		by[fold(name)] = name
		by[placeKey(name[strings.LastIndexByte(name, '/')+1:])] = name
		for _, p := range strings.Split(more, ";") {
			if p = strings.TrimSpace(p); p != "" {
				by[placeKey(p)] = name
			}
		}
	}
	return by
}()

// mostPlace bounds the words of a place's name.
const mostPlace = 4

// placeKey is a place as it is looked up: "Port-au-Prince" and "port au prince" are one.
func placeKey(place string) string {
	return strings.Join(strings.FieldsFunc(fold(place), func(c rune) bool { return c == ' ' || c == '_' || c == '-' || c == '.' }), " ")
}

// zoneOf is the zone of a place; empty where none is known.
func zoneOf(place string) string {
	if z := zones[fold(place)]; z != "" {
		return z
	}
	return zones[placeKey(place)]
}

// zoneSet is the zone that "zone New York" sets; a place that is not known stays as typed.
// Empty where none is set.
func (r *reader) zoneSet() string {
	k := 0
	for k < len(r.items) && (r.items[k].is(cZone) || k > 0 && (r.items[k].fold == "is" || r.items[k].fold == "to" || r.items[k].punct(":") || r.items[k].punct("="))) {
		k++
	}
	if k == 0 {
		return ""
	}
	place := r.placeFrom(k)
	if z := zoneOf(place); z != "" {
		return z
	}
	return place
}

// livesIn is the zone of "we live in Melbourne": only of a place that is known, since
// one is in bed or in trouble too.
func (r *reader) livesIn() string {
	if !r.items[0].is(cLives) || r.namedBatch() > 0 {
		return ""
	}
	return zoneOf(r.placeFrom(1))
}

// placeFrom is the text from item k on, if it can be the name of a place.
func (r *reader) placeFrom(k int) string {
	if k >= len(r.items) {
		return ""
	}
	place := strings.Trim(r.text[r.items[k].start:], " .!,\n")
	if len(strings.Fields(place)) > mostPlace || strings.ContainsAny(place, "?\n,;") {
		return ""
	}
	for _, w := range []string{" now", " time"} {
		if p, ok := strings.CutSuffix(fold(place), w); ok && zoneOf(place) == "" {
			return p
		}
	}
	return place
}
