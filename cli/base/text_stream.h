/* A stream into memory that never loses a word silently.
 *
 * As open_memstream, but a text that could not be kept whole is a failed run: it is reported, and
 * no result is written after it (complain_incomplete). glibc's own drops what did not fit and says
 * nothing. */
#ifndef CLI_BASE_TEXT_STREAM_H
#define CLI_BASE_TEXT_STREAM_H

#include <stdio.h>

/* *text is whole, and *size its length, once the stream is closed; free it. NULL, or a close that
 * fails: *text is NULL, and the run has failed. */
FILE *text_stream(char **text, size_t *size);

#endif
