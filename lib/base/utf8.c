#include "base/utf8.h"

size_t ct_utf8_length(const unsigned char *s, size_t left)
{
    if (s[0] < 0x80) return 1;
    const size_t n = s[0] >= 0xF0 ? 4 : s[0] >= 0xE0 ? 3 : 2;
    if (s[0] < 0xC2 || s[0] > 0xF4 || left < n) return 0;
    for (size_t i = 1; i < n; i++)
        if ((s[i] & 0xC0) != 0x80) return 0;
    if (s[0] == 0xE0 && s[1] < 0xA0) return 0;
    if (s[0] == 0xED && s[1] > 0x9F) return 0;
    if (s[0] == 0xF0 && s[1] < 0x90) return 0;
    if (s[0] == 0xF4 && s[1] > 0x8F) return 0;
    return n;
}
