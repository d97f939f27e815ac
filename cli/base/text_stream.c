#include "base/text_stream.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "base/complain.h"

typedef struct {
    char **text;
    size_t *size, room;
    bool failed;
} held;

static ssize_t take(void *cookie, const char *data, size_t n)
{
    held *h = cookie;
    if (*h->size + n >= h->room) {
        const size_t room = 2 * (*h->size + n) + 256;
        char *larger = realloc(*h->text, room);
        if (!larger) {
            h->failed = true;
            complain_incomplete();
            return 0; /* an error, for a stream's own writer */
        }
        *h->text = larger;
        h->room = room;
    }
    memcpy(*h->text + *h->size, data, n);
    *h->size += n;
    (*h->text)[*h->size] = '\0';
    return (ssize_t)n;
}

static int end(void *cookie)
{
    held *h = cookie;
    const bool failed = h->failed;
    if (failed) {
        free(*h->text);
        *h->text = NULL;
    }
    free(h);
    return failed ? -1 : 0;
}

FILE *text_stream(char **text, size_t *size)
{
    static const cookie_io_functions_t calls = {.write = take, .close = end};
    held *h = malloc(sizeof *h);
    *size = 0;
    *text = calloc(1, 256);
    if (h) *h = (held){text, size, 256, false};
    FILE *stream = h && *text ? fopencookie(h, "w", calls) : NULL;
    if (stream) return stream;
    free(h);
    free(*text);
    *text = NULL;
    complain_incomplete();
    return NULL;
}
