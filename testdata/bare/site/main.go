// Command site serves the bare page the way Larderlamp is served. Its
// arguments are the address to listen on and the program.
package main

import (
	"fmt"
	"io/fs"
	"log"
	"net"
	"net/http"
	"os"
	"testing/fstest"

	"larderlamp/static"
	"larderlamp/testdata/bare"
	"larderlamp/wasm/hosting"
)

func main() {
	if len(os.Args) != 3 {
		log.Fatal("usage: site HOST:PORT PROGRAM")
	}
	program, err := os.ReadFile(os.Args[2])
	if err != nil {
		log.Fatal(err)
	}
	bare.Register()
	site, err := hosting.Assemble(hosting.App{
		Name: "Bare", Describe: "One heading and one button.",
		Pages: bare.Pages, Shell: "/", Program: program, Static: only("boot.js", "worker.js", "icons/mark.svg", "icons/icon-192.png", "icons/icon-512.png", "icons/maskable-512.png", "icons/apple-180.png"),
	})
	if err != nil {
		log.Fatal(err)
	}
	site.Compress(hosting.Quick)
	listener, err := net.Listen("tcp", os.Args[1])
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("Bare is at http://%s/\n", listener.Addr())
	log.Fatal(http.Serve(listener, site))
}

// only is the static files with these names.
func only(names ...string) fs.FS {
	some := fstest.MapFS{}
	for _, name := range names {
		body, err := fs.ReadFile(static.Files, name)
		if err != nil {
			log.Fatal(err)
		}
		some[name] = &fstest.MapFile{Data: body}
	}
	return some
}
