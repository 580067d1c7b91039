package journal

import "context"

// Files is where pictures are kept, and what came from other benches, named by the SHA-256
// of their content.
type Files interface {
	// Put keeps data and returns its name, 64 hexadecimal digits. Keeping the same twice is no error.
	Put(ctx context.Context, data []byte) (hash string, err error)
	// Get returns what was kept under a name; the error is fs.ErrNotExist if nothing was.
	Get(ctx context.Context, hash string) ([]byte, error)
}
