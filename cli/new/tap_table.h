/* Tap table: the blower's table, typed line by line.
 *
 * A name for each tap, then a line for each point: static, airflow and watts, as in the maker's
 * table. Units are those of the dialog unless written. What was typed becomes one line of YAML, the
 * value of indoor.blower.taps. */
#ifndef CLI_NEW_TAP_TABLE_H
#define CLI_NEW_TAP_TABLE_H

#include "new/prompt.h"

/* How each tap begins in the line; its name and a quote follow. */
#define TAP_BEGINS "{name: \""

typedef enum { TABLE_DONE, TABLE_BACK, TABLE_QUIT } table_end;

/* TABLE_DONE: d->taps is filled. TABLE_BACK: it is as before; the question before is next. */
table_end tap_table_ask(dialog *d);

#endif
