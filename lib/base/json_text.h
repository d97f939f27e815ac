/* JSON text: a JSON value (RFC 8259) written into memory. Internal.
 *
 * Pure ASCII whatever the texts hold: every other character is escaped, and bytes that are not
 * UTF-8 become U+FFFD. Numbers are the same in every locale. Lack of memory is kept until the end,
 * so that callers write without looking. */
#ifndef CT_BASE_JSON_TEXT_H
#define CT_BASE_JSON_TEXT_H

#include <stdbool.h>
#include <stddef.h>

typedef struct {
    char *text;
    size_t used, size;
    bool bad;     /* out of memory */
    bool follows; /* another value comes before in this object or list */
} ct_json;

/* `name` is NULL in a list, and for the outermost value. */
void ct_json_open(ct_json *, const char *name, char bracket); /* '{' or '[' */
void ct_json_close(ct_json *, char bracket);                  /* '}' or ']' */
void ct_json_text(ct_json *, const char *name, const char *text);
void ct_json_bool(ct_json *, const char *name, bool v);
void ct_json_whole(ct_json *, const char *name, int v);
/* A value that is not finite is absent, and left out. */
void ct_json_number(ct_json *, const char *name, double v);

/* The whole text, to be freed; NULL when memory was short. */
char *ct_json_end(ct_json *);

#endif
