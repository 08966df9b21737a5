package web

import (
	"net/url"
	"strconv"
)

func itoa(n int) string { return strconv.Itoa(n) }

// query writes names and values as the end of an address; empty values are left
// out.
func query(pairs ...string) string {
	v := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i+1] != "" {
			v.Set(pairs[i], pairs[i+1])
		}
	}
	if len(v) == 0 {
		return ""
	}
	return "?" + v.Encode()
}
