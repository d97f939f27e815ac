#include "show/tap_words.h"

#include <string.h>

const char *tap_prefix(const char *name)
{
    return name[strspn(name, "0123456789")] == '\0' ? "tap " : "";
}

void tap_say(FILE *out, const ct_blower *blower, int tap)
{
    if (tap < 0) return;
    const char *name = blower->tap[tap].name;
    fprintf(out, "%s%s, ", tap_prefix(name), name);
}
