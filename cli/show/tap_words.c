#include "show/tap_words.h"

#include <string.h>

const char *tap_prefix(const char *name)
{
    return name[strspn(name, "0123456789")] == '\0' ? "tap " : "";
}
