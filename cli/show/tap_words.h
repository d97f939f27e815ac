/* A blower tap in a sentence. */
#ifndef CLI_SHOW_TAP_WORDS_H
#define CLI_SHOW_TAP_WORDS_H

/* "tap " before a name that is only a number: boards number their taps, and "5, 1,490 cfm" would not
 * be read as a name. Nothing before any other. */
const char *tap_prefix(const char *name);

#endif
