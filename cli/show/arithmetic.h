/* Arithmetic: works out a sum as it is printed.
 *
 * The walk-through prints "4725 x (28.12 - 20.74) / 7000 = ...". Whoever checks it by hand works
 * from the printed numbers, so the program does too: it evaluates the very text it is about to
 * show. Numbers with '.', + - x / ^, brackets, ln( ), exp( ); blanks anywhere. */
#ifndef CLI_SHOW_ARITHMETIC_H
#define CLI_SHOW_ARITHMETIC_H

#include <stdbool.h>

/* False: not a sum, or the result is not finite; *v is then untouched. */
bool arithmetic(const char *text, double *v);

#endif
