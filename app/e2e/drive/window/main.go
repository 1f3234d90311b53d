//go:build e2e && linux

// Command window is a window of WebKitGTK for the tests, and nothing else: a
// page of any width, data that stay between starts, no traffic but to this
// computer, the console written to a file, and a script before those of a page.
// WebKitWebDriver starts and drives it. The MiniBrowser that comes with the
// library can do none of these.
package main

import (
	"fmt"
	"os"
	"runtime"
	"strconv"
	"syscall"

	"github.com/ebitengine/purego"
)

// The calls of GTK 3 and WebKitGTK that are used, by their C names.
var (
	gtkInit         func(argc, argv uintptr)
	gtkMain         func()
	gtkWindowNew    func(kind int32) uintptr
	gtkWindowSize   func(window uintptr, width, height int32)
	gtkContainerAdd func(container, widget uintptr)
	gtkShowAll      func(widget uintptr)
	gtkDestroy      func(widget uintptr)
	gObjectNew      uintptr
	gSignalConnect  func(object uintptr, signal string, handler, data, destroy uintptr, flags int32) uint64
	objectNewWith   func(kind uintptr, n uint32, names, values uintptr) uintptr
	valueInit       func(value, kind uintptr) uintptr
	valueSetTruth   func(value uintptr, v int32)
	valueSetText    func(value, text uintptr)
	valueSetDouble  func(value uintptr, v float64)
	managerType     func() uintptr
	managerProxy    func(manager uintptr, mode int32, settings uintptr)
	proxyNew        func(uri string, ignored uintptr) uintptr
	contextNew      func(manager uintptr) uintptr
	contextAllow    func(context uintptr, allowed bool)
	settingsNew     func() uintptr
	settingsConsole func(settings uintptr, on bool)
	viewType        func() uintptr
	scriptsOf       func(view uintptr) uintptr
	scriptNew       func(source string, frames, time int32, allow, block uintptr) uintptr
	scriptAdd       func(manager, script uintptr)
)

func main() {
	if len(os.Args) < 7 {
		fmt.Fprintln(os.Stderr, "usage: window profile console proxy script room private")
		os.Exit(2)
	}
	room, err := strconv.ParseInt(os.Args[5], 10, 64)
	if err == nil {
		err = run(os.Args[1], os.Args[2], os.Args[3], os.Args[4], room, os.Args[6] == "true")
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// run opens the window. A site may keep this many bytes, or the usual number for 0;
// in a private window nothing stays when it is closed.
func run(profile, console, proxy, script string, room int64, private bool) error {
	before, err := os.ReadFile(script)
	if err != nil {
		return err
	}
	runtime.LockOSThread() // GTK stays on the thread it was started on
	// It ends with the driver that started it, however that ends.
	const pdeathsig = 1 // PR_SET_PDEATHSIG
	if _, _, errno := syscall.RawSyscall(syscall.SYS_PRCTL, pdeathsig, uintptr(syscall.SIGKILL), 0); errno != 0 {
		return fmt.Errorf("prctl: %w", errno)
	}
	out, err := os.OpenFile(console, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o600)
	if err != nil {
		return fmt.Errorf("console: %w", err)
	}
	// The processes of the pages write to the same descriptors.
	for _, fd := range []int{1, 2} {
		if err := syscall.Dup3(int(out.Fd()), fd, 0); err != nil {
			return fmt.Errorf("console: %w", err)
		}
	}
	if err := load(); err != nil {
		return err
	}
	gtkInit(0, 0)

	manager, err := dataManager(profile, room, private)
	if err != nil {
		return err
	}
	ignored := [...]uintptr{text("127.0.0.1"), 0}
	const custom = 2
	managerProxy(manager, custom, proxyNew(proxy, pointer(&ignored)))
	context := contextNew(manager)
	contextAllow(context, true)
	settings := settingsNew()
	settingsConsole(settings, true)

	closed := purego.NewCallback(func(view, data uintptr) uintptr {
		gtkDestroy(data)
		return 0
	})
	create := purego.NewCallback(func(session, data uintptr) uintptr {
		view := call(gObjectNew, viewType(), text("web-context"), context, text("settings"), settings, text("is-controlled-by-automation"), 1, 0)
		window := gtkWindowNew(0)
		gtkWindowSize(window, 360, 640)
		gtkContainerAdd(window, view)
		gtkShowAll(window)
		scriptAdd(scriptsOf(view), scriptNew(string(before), 0, 0, 0, 0))
		gSignalConnect(view, "close", closed, window, 0, 0)
		return view
	})
	started := purego.NewCallback(func(context, session, data uintptr) uintptr {
		gSignalConnect(session, "create-web-view", create, 0, 0, 0)
		return 0
	})
	gSignalConnect(context, "automation-started", started, 0, 0, 0)
	gtkMain()
	return nil
}

// value is a GValue: its type, and two words for what it holds.
type value struct{ kind, held, more uintptr }

// The types of GLib whose numbers are fixed.
const (
	truths  = 5 << 2
	doubles = 15 << 2
	texts   = 16 << 2
)

// dataManager returns what keeps the data of the pages. The room for one site is
// told to it as a share of the disk.
func dataManager(profile string, room int64, private bool) (uintptr, error) {
	var names [3]uintptr
	var values [3]value
	n := uint32(0)
	property := func(name string, kind uintptr) uintptr {
		at := pointer(&values[n])
		names[n] = text(name)
		n++
		return valueInit(at, kind)
	}
	if private {
		valueSetTruth(property("is-ephemeral", truths), 1)
		return objectNewWith(managerType(), n, pointer(&names), pointer(&values)), nil
	}
	valueSetText(property("base-data-directory", texts), text(profile+"/data"))
	valueSetText(property("base-cache-directory", texts), text(profile+"/cache"))
	if room > 0 {
		var disk syscall.Statfs_t
		if err := syscall.Statfs(profile, &disk); err != nil {
			return 0, fmt.Errorf("room: %w", err)
		}
		valueSetDouble(property("origin-storage-ratio", doubles), float64(room)/(float64(disk.Blocks)*float64(disk.Bsize)))
	}
	return objectNewWith(managerType(), n, pointer(&names), pointer(&values)), nil
}

// load finds the libraries, which come with the Debian package
// webkit2gtk-driver.
func load() error {
	for _, l := range []struct {
		file  string
		calls map[string]any
	}{
		{"libgtk-3.so.0", map[string]any{
			"gtk_init": &gtkInit, "gtk_main": &gtkMain, "gtk_window_new": &gtkWindowNew,
			"gtk_window_set_default_size": &gtkWindowSize, "gtk_container_add": &gtkContainerAdd,
			"gtk_widget_show_all": &gtkShowAll, "gtk_widget_destroy": &gtkDestroy}},
		{"libgobject-2.0.so.0", map[string]any{
			"g_object_new_with_properties": &objectNewWith, "g_value_init": &valueInit, "g_value_set_boolean": &valueSetTruth, "g_value_set_string": &valueSetText, "g_value_set_double": &valueSetDouble,
			"g_object_new": &gObjectNew, "g_signal_connect_data": &gSignalConnect}},
		{"libwebkit2gtk-4.1.so.0", map[string]any{
			"webkit_website_data_manager_get_type":                        &managerType,
			"webkit_website_data_manager_set_network_proxy_settings":      &managerProxy,
			"webkit_network_proxy_settings_new":                           &proxyNew,
			"webkit_web_context_new_with_website_data_manager":            &contextNew,
			"webkit_web_context_set_automation_allowed":                   &contextAllow,
			"webkit_settings_new":                                         &settingsNew,
			"webkit_settings_set_enable_write_console_messages_to_stdout": &settingsConsole,
			"webkit_web_view_get_type":                                    &viewType,
			"webkit_web_view_get_user_content_manager":                    &scriptsOf,
			"webkit_user_script_new":                                      &scriptNew,
			"webkit_user_content_manager_add_script":                      &scriptAdd}},
	} {
		library, err := purego.Dlopen(l.file, purego.RTLD_NOW|purego.RTLD_GLOBAL)
		if err != nil {
			return fmt.Errorf("%s: %w", l.file, err)
		}
		for name, into := range l.calls {
			symbol, err := purego.Dlsym(library, name)
			if err != nil {
				return fmt.Errorf("%s: %w", name, err)
			}
			if address, ok := into.(*uintptr); ok {
				*address = symbol // takes any number of arguments; see call
			} else {
				purego.RegisterFunc(into, symbol)
			}
		}
	}
	return nil
}

// call calls a function that takes any number of arguments.
func call(function uintptr, args ...uintptr) uintptr {
	v, _, _ := purego.SyscallN(function, args...)
	return v
}
