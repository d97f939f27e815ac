/* Keys of a readings file, for those who read the same in another form. Internal. */
#ifndef CT_CASE_READINGS_KEYS_H
#define CT_CASE_READINGS_KEYS_H

#include "case/key.h"

const ct_key_table *ct_readings_keys(void);

/* Which reading (ct_reading_kind) a row holds; CT_READING_COUNT: none. */
int ct_readings_kind(const ct_key *);

/* The row of a reading; NULL for one that is only worked out. */
const ct_key *ct_readings_row(int kind);

#endif
