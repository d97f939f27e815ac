/* Words a fuzzer should know: the keys of both tables and what may be beside them. */
#include <stdio.h>
#include <string.h>

#include "case/casefile.h"
#include "case/readings.h"

static void put(const char *key, const char *allowed)
{
    const char *word = strrchr(key, '.');
    printf("\"%s:\"\n", word ? word + 1 : key);
    if (allowed && allowed[0] && !strpbrk(allowed, "\"\\")) printf("\"%s\"\n", allowed);
}

int main(void)
{
    ct_key_row row;
    for (int i = 0; ct_casefile_key(i, &row); i++)
        put(row.key, row.allowed);
    for (int i = 0; ct_readings_key(i, &row); i++)
        put(row.key, row.allowed);
    return 0;
}
