#include "show/chance_words.h"

#include <math.h>
#include <stddef.h>
#include <stdio.h>

static const struct {
    double least;
    const char *word;
} words[] = {
    {0.95, "Almost certain"}, {0.85, "Very likely"},
    {0.65, "Likely"},         {0.55, "More likely than not"},
    {0.45, "About even"},     {0.20, "Less likely than not"},
    {0.0, "Unlikely"},
};

const char *chance_word(double share)
{
    size_t i = 0;
    while (i + 1 < sizeof words / sizeof words[0] && !(share >= words[i].least))
        i++;
    return words[i].word;
}

const char *chance_in_ten(char text[CHANCE_SIZE], double share)
{
    const double tenths = round(10 * share);
    if (tenths > 9)
        snprintf(text, CHANCE_SIZE, "more than 9 chances in 10");
    else if (tenths < 1)
        snprintf(text, CHANCE_SIZE, "less than 1 chance in 10");
    else
        snprintf(text, CHANCE_SIZE, "about %.0f chance%s in 10", tenths, tenths > 1 ? "s" : "");
    return text;
}

const char *chance_sentence(char text[CHANCE_SENTENCE], const char *it, double all, double cool)
{
    char passes[CHANCE_SIZE], carries[CHANCE_SIZE];
    snprintf(
        text, CHANCE_SENTENCE,
        "%s: with every input off by its usual doubt, there are %s that %s passes every limit, "
        "and %s that it carries the load.",
        chance_word(all), chance_in_ten(passes, all), it, chance_in_ten(carries, cool));
    return text;
}
