/* Keys: the one table of the keys of a case file, behind the reader, its messages, the key list and
 * the assumptions. Internal.
 *
 * The rows are in keys_site.c, keys_outdoor.c, keys_duct.c, keys_indoor.c, keys_rest.c and
 * keys_season.c. A new key is a row
 * there, a field in case.h, its test, and a line in defaults.c when its value follows from other
 * keys. */
#ifndef CT_CASE_KEYS_H
#define CT_CASE_KEYS_H

#include "case/key.h"

extern const ct_key_rows ct_keys_site;    /* job, site, house */
extern const ct_key_rows ct_keys_outdoor; /* outdoor */
extern const ct_key_rows ct_keys_indoor;  /* matched_coil, indoor, candidates */
extern const ct_key_rows ct_keys_duct;    /* duct */
extern const ct_key_rows ct_keys_rest;    /* way_in, space, sweep, limits, uncertainty, tuned */
extern const ct_key_rows ct_keys_season;  /* season, fan_control */

extern const ct_key_table ct_case_keys;

#endif
