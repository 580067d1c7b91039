// Package photo turns a picture of a board as a camera gives it into one fit to
// keep: upright, no larger than needed, and with nothing in it but the picture.
//
// Start at [Clean]. It tells JPEG, PNG and WebP by their first bytes, looks at
// the dimensions before it decodes anything, turns the picture as its EXIF
// orientation says, scales it down to [Limits].Edge, and writes it anew as JPEG:
// place, time, camera and every other tag stay behind, because nothing of the
// old file is copied.
//
// # Cost
//
// Decoding takes most of it. What a decoder may allocate is estimated from
// dimensions, colour model and coding, and refused above [Limits].Memory, so that a
// small file cannot ask for a large memory. A 12-megapixel JPEG takes a second or so
// and allocates 150 MB in all (BenchmarkClean); the largest taken, some 400 MB.
//
// # Failure
//
// An [*Refusal] says in a sentence what is wrong with the file and what to do.
//
// # References
//
// Exif 2.32 / TIFF 6.0 (tag 0x0112, orientation 1 to 8); RFC 2083 and the PNG
// specification's eXIf chunk; the WebP container's EXIF chunk. From memory.
package photo
