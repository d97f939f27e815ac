#include "base/utf8.h"

#include <string.h>

/* Overlong forms, surrogate halves and what lies past U+10FFFF show in the second byte. */
static bool second_byte_wrong(unsigned char first, unsigned char second)
{
    return (first == 0xe0 && second < 0xa0) || (first == 0xed && second > 0x9f) ||
           (first == 0xf0 && second < 0x90) || (first == 0xf4 && second > 0x8f);
}

int utf8_length(const char *c)
{
    const unsigned char b = (unsigned char)c[0];
    const int length = b < 0x80                ? 1
                       : b >= 0xc2 && b < 0xe0 ? 2
                       : b >= 0xe0 && b < 0xf0 ? 3
                       : b >= 0xf0 && b < 0xf5 ? 4
                                               : 0;
    for (int i = 1; i < length; i++)
        if (((unsigned char)c[i] & 0xc0) != 0x80) return 0;
    if (length > 2 && second_byte_wrong(b, (unsigned char)c[1])) return 0;
    return length;
}

bool utf8_is_control(const char *c, int length)
{
    const unsigned char b = (unsigned char)c[0];
    return (length == 1 && (b < 32 || b == 127)) ||
           (length == 2 && b == 0xc2 && (unsigned char)c[1] < 0xa0);
}

bool utf8_is_unsafe(const char *c, int length)
{
    const unsigned char *b = (const unsigned char *)c;
    if (length != 3) return utf8_is_control(c, length);
    return b[0] == 0xe2 && ((b[1] == 0x80 && b[2] >= 0xa8 && b[2] <= 0xae) ||
                            (b[1] == 0x81 && b[2] >= 0xa6 && b[2] <= 0xa9));
}

void utf8_shown(char *shown, size_t size, const char *text)
{
    size_t used = 0;
    while (*text) {
        const int length = utf8_length(text);
        const bool good = length > 0 && !utf8_is_unsafe(text, length);
        const size_t n = good ? (size_t)length : 1;
        if (used + n >= size) break;
        if (good)
            memcpy(shown + used, text, n);
        else
            shown[used] = length && strchr("\t\r\n", *text) ? ' ' : '?';
        used += n;
        text += length ? length : 1;
    }
    shown[used] = '\0';
}
