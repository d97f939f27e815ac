#include "fluid/catalog.h"

#include <ctype.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

#include "helmholtz_model.h"

#define COMMA ,
#define ROW(model, ...)                                                                            \
    {                                                                                              \
        __VA_ARGS__, &ct_model_##model                                                             \
    }

static const ct_catalog_row rows[] = {
    CT_CATALOG_MODELS(ROW, COMMA),
    {"R-134a", "A1", CT_OIL_ESTER, false, true, 86.7, 0, 0, NULL},
    {"R-12", "A1", CT_OIL_MINERAL, true, true, 84.2, 0, 0, NULL},
    {"R-502", "A1", CT_OIL_MINERAL, true, true, 161.2, 0, 0, NULL},
    {"R-427A", "A1", CT_OIL_ESTER, false, false, 159.0, 5.8, 0, NULL},
    {"R-422D", "A1", CT_OIL_MINERAL, false, false, 157.1, 3.6, 0, NULL},
    {"R-438A", "A1", CT_OIL_MINERAL, false, false, 150.0, 3.7, 0, NULL},
};

enum { N_ROWS = sizeof rows / sizeof *rows, KEY_SIZE = 48 };

/* What spelling leaves free taken off: upper case letters and digits only, the prefix R. */
static void plain(const char *name, char key[KEY_SIZE])
{
    static const char *const prefixes[] = {"HCFC", "HFC", "CFC"};
    size_t n = 0;
    for (; *name && n + 1 < KEY_SIZE; name++)
        if (isalnum((unsigned char)*name)) {
            if (n == 0 && isdigit((unsigned char)*name)) key[n++] = 'R'; /* "410A" */
            key[n++] = (char)toupper((unsigned char)*name);
        }
    key[n] = '\0';
    for (size_t i = 0; i < sizeof prefixes / sizeof *prefixes; i++) {
        const size_t length = strlen(prefixes[i]);
        if (n <= length || strncmp(key, prefixes[i], length) != 0 ||
            !isdigit((unsigned char)key[length]))
            continue;
        key[0] = 'R';
        memmove(key + 1, key + length, n - length + 1);
        return;
    }
}

bool ct_catalog_same(const char *a, const char *b)
{
    char key_a[KEY_SIZE], key_b[KEY_SIZE];
    plain(a, key_a);
    plain(b, key_b);
    return strcmp(key_a, key_b) == 0;
}

const ct_catalog_row *ct_catalog_find(const char *name)
{
    for (int i = 0; name && i < N_ROWS; i++)
        if (ct_catalog_same(name, rows[i].name)) return &rows[i];
    return NULL;
}

const char *ct_catalog_next(const char *list, char *name, size_t size)
{
    static const char between[] = ",;/&+";

    list += strspn(list, ",;/&+ \t");
    size_t n = strcspn(list, between);
    if (n == 0) return NULL;
    snprintf(name, size, "%.*s", (int)n, list);
    return list + n;
}

bool ct_catalog_lists(const char *list, const char *name)
{
    char one[KEY_SIZE];

    while ((list = ct_catalog_next(list, one, sizeof one)))
        if (ct_catalog_same(one, name)) return true;
    return false;
}

const ct_catalog_row *ct_catalog_at(int i)
{
    return i >= 0 && i < N_ROWS ? &rows[i] : NULL;
}
