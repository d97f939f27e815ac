/* UTF-8: where one character ends and the next begins, after RFC 3629. */
#ifndef CLI_BASE_UTF8_H
#define CLI_BASE_UTF8_H

#include <stdbool.h>
#include <stddef.h>

/* Bytes of the character at c, 0 when they are not one. */
int utf8_length(const char *c);

/* C0 and DEL, and C1 (two bytes, c2 80 to c2 9f). */
bool utf8_is_control(const char *c, int length);

/* A control, or one of the characters that change the direction or the line of all that follows
 * (U+2028 to U+202E, U+2066 to U+2069): on a terminal or in a list they could make one text look
 * like another. */
bool utf8_is_unsafe(const char *c, int length);

/* `text` as it may be shown on one line: line ends and tabs are blanks, what is unsafe or not UTF-8
 * is '?'. Cut at a whole character when it does not fit. */
void utf8_shown(char *shown, size_t size, const char *text);

#endif
