/* Numbers as text for files: the decimal sign is '.', in every locale. */
#ifndef CLI_BASE_NUMBER_TEXT_H
#define CLI_BASE_NUMBER_TEXT_H

#include <stdbool.h>

#define NUMBER_TEXT_SIZE 32

/* digits 1..17: that many significant digits. digits 0: the fewest that read back as the same
 * double. v must be finite; else the text is empty and false is returned. */
bool number_text(char text[NUMBER_TEXT_SIZE], double v, int digits);

#endif
