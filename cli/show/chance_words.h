/* Chances in words: a share of the draws around a case, said alike wherever it is said. */
#ifndef CLI_SHOW_CHANCE_WORDS_H
#define CLI_SHOW_CHANCE_WORDS_H

/* "Almost certain" down to "Unlikely". */
const char *chance_word(double share);

/* "about 7 chances in 10", at the ends "more than 9 chances in 10" and "less than 1 chance in 10":
 * more digits would claim too much. */
enum { CHANCE_SIZE = 40 };
const char *chance_in_ten(char text[CHANCE_SIZE], double share);

/* A sentence: the chances that `it` ("this speed") passes every limit and that it carries the
 * load. */
enum { CHANCE_SENTENCE = 400 };
const char *chance_sentence(char text[CHANCE_SENTENCE], const char *it, double all, double cool);

#endif
