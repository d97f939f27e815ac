/* Key row: what people are shown of one key of a file: its name, what is written there, what is
 * allowed, what is taken without it. For help and manual. Public. */
#ifndef CT_CASE_KEY_ROW_H
#define CT_CASE_KEY_ROW_H

typedef struct {
    const char *key;     /* "outdoor.rated_capacity" */
    const char *unit;    /* kind and example, "power, 36000 Btu/h" */
    const char *allowed; /* "6000 Btu/h to 240000 Btu/h" */
    const char *when;    /* "required", "default 10 F", "optional" */
    const char *also;    /* "labour", "TXV=valve|orifice=piston": other words taken, "" if none */
    const char *brief; /* short names, "capacity": enough where a key is given alone, "" if none */
    const char *help;
} ct_key_row;

#endif
