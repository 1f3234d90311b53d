//go:build slim

// What stands in the page's program for files of go-app that wasm/slim leaves out.

package app

import (
	"strings"
	"sync"

	"github.com/maxence-charriere/go-app/v10/pkg/errors"
)

// Handler serves pages, which the program of a page never does.
type Handler struct{}

// clientResourceResolver returns the address of a file below /web/.
func clientResourceResolver(folder string) func(string) string {
	return func(location string) string {
		if file, ok := strings.CutPrefix(location, "/web/"); ok {
			return folder + "/" + file
		}
		return location
	}
}

// errLeftOut is what the context's Encrypt and Decrypt give.
var errLeftOut = errors.New("encryption is left out of this program, see wasm/slim")

func encrypt(string, []byte) ([]byte, error) { return nil, errLeftOut }
func decrypt(string, []byte) ([]byte, error) { return nil, errLeftOut }

// router finds the page of a path: one that has the path, or the first of those
// for all paths that begin in a way.
type router struct {
	mu       sync.RWMutex
	routes   map[string]func() Composer
	prefixes []prefixRoute
}

type prefixRoute struct {
	prefix       string
	newComponent func() Composer
}

func makeRouter() router { return router{routes: map[string]func() Composer{}} }

func (r *router) route(path string, newComponent func() Composer) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.routes[path] = newComponent
}

// routeWithRegexp knows one form of regular expression, for all paths that begin
// with a text: "^/folder/.*".
func (r *router) routeWithRegexp(pattern string, newComponent func() Composer) {
	text, begins := strings.CutPrefix(pattern, "^")
	prefix, ends := strings.CutSuffix(text, ".*")
	if !begins || !ends || strings.ContainsAny(prefix, `\.+*?()|[]{}^$`) {
		panic("route " + pattern + `: regular expressions are left out of this program but for "^/folder/.*", see wasm/slim`)
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	r.prefixes = append(r.prefixes, prefixRoute{prefix, newComponent})
}

func (r *router) routed(path string) bool {
	_, ok := r.find(path)
	return ok
}

func (r *router) createComponent(path string) (Composer, bool) {
	newComponent, ok := r.find(path)
	if !ok {
		return nil, false
	}
	return newComponent(), true
}

func (r *router) find(path string) (func() Composer, bool) {
	r.mu.RLock()
	defer r.mu.RUnlock()
	if newComponent, ok := r.routes[path]; ok {
		return newComponent, true
	}
	for _, p := range r.prefixes {
		if strings.HasPrefix(path, p.prefix) {
			return p.newComponent, true
		}
	}
	return nil, false
}
