/* The readers of numbers: any text is a finite number with a rest, or no number. */
#include <locale.h>
#include <math.h>

#include "base/natural.h"
#include "base/number.h"
#include "fuzz.h"

enum { LONGEST = 300 };

static void check_number(const char *text, size_t size)
{
    double v = 0;
    const char *end = NULL;
    if (!ct_number_read(text, &v, &end)) return;
    HOLDS(isfinite(v) && end > text && end <= text + size);
    /* Seventeen digits hold a double: what is written reads back as itself. */
    char again[40];
    double back = 0;
    ct_number_write(v, 17, again, sizeof again);
    HOLDS(ct_number_read(again, &back, &end) && *end == '\0' && back == v);
}

static void check_natural(const char *text, size_t size, bool feet)
{
    ct_natural n;
    if (!ct_natural_read(text, feet, &n)) return;
    HOLDS(isfinite(n.v) && n.rest);
    /* The rest is in the text, or the word for inches. */
    HOLDS((n.rest >= text && n.rest <= text + size) || strcmp(n.rest, "in") == 0);
}

/* A value as one of the everyday keys reads it: taken or refused with a reason that can be
 * shown. */
static void check_value(const char *text)
{
    static const char *const key[] = {
        "outdoor.rated_capacity", "site.outdoor_dry_bulb", "duct.static",  "indoor.cabinet.height",
        "indoor.price",           "outdoor.refrigerant",   "house.margin", "indoor.metering.kind"};
    ct_fault fault = {.what = ""};
    if (ct_casefile_try(key[strlen(text) % (sizeof key / sizeof *key)], text, &fault) != CT_OK)
        HOLDS(fault.what[0] && fuzz_is_clean(fault.what));
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char text[LONGEST + 1];
    if (size > LONGEST) return 0;
    memcpy(text, data, size);
    text[size] = '\0';
    size = strlen(text);
    check_number(text, size);
    check_natural(text, size, false);
    check_natural(text, size, true);
    check_value(text);
    return 0;
}
