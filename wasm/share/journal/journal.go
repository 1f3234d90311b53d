// Package journal keeps the sealed versions of all households in their order, in
// the streams of NATS JetStream: of a server within this program, or of a cluster.
// It knows neither HTTP nor what is sealed.
package journal

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"

	"larderlamp/share/store"
)

// The streams. Every version has a subject of its own: version.HOUSEHOLD.SIZE.NAME.
// What is stored is told on news.HOUSEHOLD.
const (
	households = "HOUSEHOLDS"
	versions   = "VERSIONS"
)

// Settings are what a log is opened with.
type Settings struct {
	Households int64 // how many there may be
	Bytes      int64 // of all versions together
	Largest    int32 // bytes of one version
	Replicas   int
	Alone      bool          // nobody else uses the log
	Patience   time.Duration // how long the log may take for one answer
	// Room tells how many bytes are free where the log is, if that can be asked.
	// Nothing is stored when they are fewer than Spare: a server whose disk is full
	// could not be read either.
	Room  func() (int64, error)
	Spare int64
}

// Journal is an open log. It holds nothing but its connection, and what it remembers
// of the end of the log.
type Journal struct {
	conn     *nats.Conn
	js       jetstream.JetStream
	patience time.Duration
	room     func() (int64, error)
	spare    int64
	alone    bool // the log is within this program, and nobody else stores anything
	tail     *tail

	mu     sync.Mutex
	silent int       // how often in a row it did not answer a write
	since  time.Time // when that began
}

// Open makes the streams, or takes those that are there.
func Open(ctx context.Context, conn *nats.Conn, s Settings) (*Journal, error) {
	if most := conn.MaxPayload(); most < int64(s.Largest)+2048 {
		return nil, fmt.Errorf("the server takes messages of %d bytes (max_payload), want %d", most, s.Largest+2048)
	}
	js, err := jetstream.New(conn, jetstream.WithDefaultTimeout(s.Patience))
	if err != nil {
		return nil, fmt.Errorf("open the log: %w", err)
	}
	for _, c := range []jetstream.StreamConfig{
		{
			Name: households, Subjects: []string{"household.*"},
			MaxMsgs: s.Households, MaxMsgSize: 1024,
		},
		{
			Name: versions, Subjects: []string{"version.*.*.*"},
			MaxBytes: s.Bytes, MaxMsgSize: s.Largest + 1024,
			RePublish: &jetstream.RePublish{Source: "version.*.*.*", Destination: "news.{{wildcard(1)}}"},
		},
	} {
		// Nothing in the log is ever dropped to make room.
		c.Discard, c.Storage, c.Replicas, c.AllowDirect = jetstream.DiscardNew, jetstream.FileStorage, s.Replicas, true
		if err := create(ctx, js, c, s.Patience); err != nil {
			return nil, fmt.Errorf("open the stream %s: %w", c.Name, err)
		}
	}
	j := &Journal{conn: conn, js: js, patience: s.Patience, room: s.Room, spare: s.Spare, alone: s.Alone, tail: newTail()}
	if err := j.follow(ctx); err != nil {
		return nil, fmt.Errorf("follow the log: %w", err)
	}
	return j, nil
}

// follow has the tail told what the log stores from now on.
func (j *Journal) follow(ctx context.Context) error {
	// What was told while there was no connection is lost.
	j.conn.SetReconnectHandler(func(*nats.Conn) { j.tail.interrupted() })
	news, err := j.conn.Subscribe("news.*", j.tail.hear)
	if err == nil {
		// Nothing is left out because of its number, and not much because of its size.
		err = news.SetPendingLimits(-1, 64<<20)
	}
	if err != nil {
		return err
	}
	if _, err := j.conn.Subscribe("removed.*", func(m *nats.Msg) { j.tail.removed(strings.TrimPrefix(m.Subject, "removed.")) }); err != nil {
		return err
	}
	if err := j.conn.FlushTimeout(j.patience); err != nil {
		return err
	}
	last, err := j.last(ctx)
	if err != nil {
		return err
	}
	j.tail.begin(last)
	go func() {
		for each := time.Tick(compared); !j.conn.IsClosed(); {
			<-each
			// A log that does not answer has nothing to tell either.
			if now, err := j.last(context.Background()); err == nil {
				j.tail.compare(last, now)
				last = now
			}
		}
	}()
	return nil
}

// compared is how often the tail is compared with the log: what the log tells may get
// lost.
const compared = 15 * time.Second

// last gives the last number of the log.
func (j *Journal) last(ctx context.Context) (uint64, error) {
	ctx, done := context.WithTimeout(ctx, j.patience)
	defer done()
	s, err := j.js.Stream(ctx, versions)
	if err != nil {
		return 0, err
	}
	return s.CachedInfo().State.LastSeq, nil
}

// said turns the log's answer to a write into one of the faults.
func said(err error, full error) error {
	var api *jetstream.APIError
	if errors.As(err, &api) {
		switch api.ErrorCode {
		case 10071, 10164: // there is a message of this subject, or one on its way
			return store.ErrTaken
		case 10077: // it cannot be stored
			if strings.HasPrefix(api.Description, "maximum ") {
				return full
			}
			if strings.Contains(api.Description, "no space") {
				return store.ErrFull
			}
		case 10047: // no room on the disk
			return store.ErrFull
		}
	}
	return fmt.Errorf("%w: %w", store.ErrNotNow, err)
}

// create makes a stream, or takes the one that is there. Servers that are choosing
// a leader do not answer, and those that have not all found each other yet say that
// they are too few (10005): they are asked again.
func create(ctx context.Context, js jetstream.JetStream, c jetstream.StreamConfig, patience time.Duration) error {
	for {
		within, done := context.WithTimeout(ctx, patience)
		_, err := js.CreateOrUpdateStream(within, c)
		done()
		var api *jetstream.APIError
		if err == nil || errors.As(err, &api) && api.Code < 500 && api.ErrorCode != 10005 {
			return err
		}
		select {
		case <-ctx.Done():
			return err
		case <-time.After(200 * time.Millisecond):
		}
	}
}

// hasRoom fails when the disk is nearly full.
func (j *Journal) hasRoom() error {
	if j.room == nil {
		return nil
	}
	switch free, err := j.room(); {
	case err != nil:
		return fmt.Errorf("%w: %w", store.ErrNotNow, err)
	case free < j.spare:
		return store.ErrFull
	}
	return nil
}

// Put adds a version at the end of the log and gives its number. One that is
// there already keeps its number, and fresh is false.
func (j *Journal) Put(ctx context.Context, household, name string, version []byte) (number uint64, fresh bool, err error) {
	if err := j.hasRoom(); err != nil {
		return 0, false, err
	}
	within, done := context.WithTimeout(ctx, j.patience)
	defer done()
	subject := fmt.Sprintf("version.%s.%d.%s", household, len(version), name)
	ack, err := j.js.Publish(within, subject, version, jetstream.WithExpectLastSequencePerSubject(0))
	if ctx.Err() == nil { // not when it was the phone that went away
		j.heard(within.Err() == nil)
	}
	if err == nil {
		j.tail.acknowledged(ack.Sequence)
		return ack.Sequence, true, nil
	}
	if err = said(err, store.ErrFull); !errors.Is(err, store.ErrTaken) {
		return 0, false, err
	}
	// Somebody else's may still be on its way to the other servers.
	m, err := j.newest(ctx, versions, subject)
	if err == nil && m == nil {
		err = store.ErrNotNow
	}
	if err != nil {
		return 0, false, err
	}
	j.tail.acknowledged(m.Sequence)
	return m.Sequence, false, nil
}

// heard notes whether the log has answered a write.
func (j *Journal) heard(answer bool) {
	j.mu.Lock()
	defer j.mu.Unlock()
	switch {
	case answer:
		j.silent = 0
	case j.silent == 0:
		j.silent, j.since = 1, time.Now()
	default:
		j.silent++
	}
}

// Silent reports how many writes in a row were not answered, and since when. An
// embedded server that once failed to write, because its disk was full, answers no
// write until it is restarted.
func (j *Journal) Silent() (writes int, since time.Time) {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.silent, j.since
}

// Count tells how many versions of a household there are, and their bytes.
func (j *Journal) Count(ctx context.Context, household string) (count int, size int64, err error) {
	ctx, done := context.WithTimeout(ctx, j.patience)
	defer done()
	s, err := j.js.Stream(ctx, versions)
	if err != nil {
		return 0, 0, fmt.Errorf("%w: %w", store.ErrNotNow, err)
	}
	info, err := s.Info(ctx, jetstream.WithSubjectFilter("version."+household+".>"))
	if err != nil {
		return 0, 0, fmt.Errorf("%w: %w", store.ErrNotNow, err)
	}
	for subject, n := range info.State.Subjects {
		_, _, each, err := parts(subject)
		if err != nil {
			return 0, 0, err
		}
		count += int(n)
		size += int64(n) * each
	}
	return count, size, nil
}

// parts takes the subject of a version apart.
func parts(subject string) (household, name string, size int64, err error) {
	p := strings.Split(subject, ".")
	if len(p) != 4 || p[0] != "version" {
		return "", "", 0, fmt.Errorf("%w: it holds something that is no version", store.ErrNotNow)
	}
	size, err = strconv.ParseInt(p[2], 10, 64)
	if err != nil {
		return "", "", 0, fmt.Errorf("%w: it holds a version without its size: %w", store.ErrNotNow, err)
	}
	return p[1], p[3], size, nil
}

// newest gives the last message of a subject, or nil, as the leader of the stream
// has it: another server may be behind.
func (j *Journal) newest(ctx context.Context, stream, subject string) (*stored, error) {
	return j.ask(ctx, "$JS.API.STREAM.MSG.GET."+stream, map[string]any{"last_by_subj": subject})
}

// stored is a message as the leader gives it.
type stored struct {
	Subject  string    `json:"subject"`
	Sequence uint64    `json:"seq"`
	Data     []byte    `json:"data"`
	Time     time.Time `json:"time"`
}

func (j *Journal) ask(ctx context.Context, subject string, what any) (*stored, error) {
	ctx, done := context.WithTimeout(ctx, j.patience)
	defer done()
	body, err := json.Marshal(what)
	if err != nil {
		return nil, err
	}
	answer, err := j.conn.RequestWithContext(ctx, subject, body)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", store.ErrNotNow, err)
	}
	var got struct {
		Message *stored
		Error   *jetstream.APIError
	}
	if err := json.Unmarshal(answer.Data, &got); err != nil {
		return nil, fmt.Errorf("%w: %w", store.ErrNotNow, err)
	}
	if got.Error != nil {
		if got.Error.ErrorCode == 10037 { // no message found
			return nil, nil
		}
		return nil, fmt.Errorf("%w: %w", store.ErrNotNow, got.Error)
	}
	return got.Message, nil
}

// Stored tells when the version with a number was stored, or [store.ErrNotThere] if that
// is none of this household: the log was put back from an older copy.
func (j *Journal) Stored(ctx context.Context, household string, number uint64) (time.Time, error) {
	m, err := j.ask(ctx, "$JS.API.STREAM.MSG.GET."+versions, map[string]any{"seq": number})
	if err != nil {
		return time.Time{}, err
	}
	if m == nil {
		return time.Time{}, store.ErrNotThere
	}
	whose, _, _, err := parts(m.Subject)
	if err != nil {
		return time.Time{}, err
	}
	if whose != household {
		return time.Time{}, store.ErrNotThere
	}
	return m.Time, nil
}
