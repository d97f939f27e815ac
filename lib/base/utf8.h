/* UTF-8: where a character ends. Internal. */
#ifndef CT_BASE_UTF8_H
#define CT_BASE_UTF8_H

#include <stddef.h>

/* Length of the UTF-8 character at s (RFC 3629: shortest form, no surrogates) in the `left` > 0
 * bytes there are, 0 if it is none. */
size_t ct_utf8_length(const unsigned char *s, size_t left);

#endif
