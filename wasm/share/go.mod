module larderlamp/share

go 1.26.0

require (
	github.com/nats-io/nats-server/v2 v2.14.3
	github.com/nats-io/nats.go v1.51.0
	golang.org/x/crypto v0.53.0
	golang.org/x/time v0.15.0
	larderlamp v0.0.0-00010101000000-000000000000
	rsc.io/qr v0.2.0
)

require (
	github.com/antithesishq/antithesis-sdk-go v0.7.0-default-no-op // indirect
	github.com/google/go-tpm v0.9.8 // indirect
	github.com/google/uuid v1.6.0 // indirect
	github.com/klauspost/compress v1.18.6 // indirect
	github.com/minio/highwayhash v1.0.4 // indirect
	github.com/nats-io/jwt/v2 v2.8.2 // indirect
	github.com/nats-io/nkeys v0.4.16 // indirect
	github.com/nats-io/nuid v1.0.1 // indirect
	golang.org/x/net v0.55.0 // indirect
	golang.org/x/sys v0.49.0 // indirect
	golang.org/x/text v0.38.0 // indirect
)

replace larderlamp => ../..
