/* UTF-8: where one character ends and the next begins, after RFC 3629. */
#ifndef CLI_BASE_UTF8_H
#define CLI_BASE_UTF8_H

#include <stdbool.h>

/* Bytes of the character at c, 0 when they are not one. */
int utf8_length(const char *c);

/* C0 and DEL, and C1 (two bytes, c2 80 to c2 9f). */
bool utf8_is_control(const char *c, int length);

#endif
