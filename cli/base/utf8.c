#include "base/utf8.h"

/* Overlong forms, surrogate halves and what lies past U+10FFFF are told by the second byte. */
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
