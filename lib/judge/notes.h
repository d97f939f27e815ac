/* Notes: where a figure leans on more than the data behind it.
 *
 * Equations and tables hold inside the data they were made from. A point worked out beyond them is
 * still an answer, but a softer one, and the reader must know. Each such place is one bit; the
 * words are the program's. Public. */
#ifndef CT_JUDGE_NOTES_H
#define CT_JUDGE_NOTES_H

#include "base/status.h"
#include "part/room.h"
#include "plant/balance.h"
#include "plant/plant.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum {
    CT_NOTE_FIN_RANGE = 1 << 0,         /* air side of a coil by geometry: finside.h */
    CT_NOTE_PISTON_BORE = 1 << 1,       /* piston beyond its flow equation's data: orifice.h */
    CT_NOTE_PISTON_LENGTH = 1 << 2,     /* the same of its length */
    CT_NOTE_PISTON_SUBCOOLING = 1 << 3, /* the same of the liquid's subcooling */
    CT_NOTE_PISTON_GAS = 1 << 4,        /* gas arrives at the piston with the liquid */
    CT_NOTE_BLOWER_TABLE = 1 << 5,      /* static below the first point of the tap's table */
    CT_NOTE_ROOM_RANGE = 1 << 6,        /* the house settles beyond the humidities tried */
    CT_NOTE_FAN_ON_RANGE = 1 << 7,      /* the same were the blower left on */
    CT_NOTE_ROOM_SHORT = 1 << 8,        /* the part load is not carried: the room gets warmer */
    CT_NOTE_NEAR_FLOOD = 1 << 9,        /* a piston with little superheat left */
    CT_NOTE_LINE_GAS = 1 << 10,         /* the liquid line takes more than the subcooling covers */
    CT_NOTE_CHARGE_GAS = 1 << 11,       /* a piston's charge leaves no subcooling here */
    CT_NOTE_STARVED = 1 << 12           /* a piston leaves far more superheat than its target */
} ct_note;
enum { CT_NOTE_COUNT = 13 };

/* A speed at which the metering device needs a second look, though it passes. */
#define CT_NOTE_METERING ((unsigned)CT_NOTE_NEAR_FLOOD | (unsigned)CT_NOTE_STARVED)

/* ct_note bits of a balance of this system; 0 for an ordinary one. */
CT_API unsigned ct_notes_of_balance(const ct_system *, const ct_balance *);

/* Those of where the house settles, with the blower as the case has it and left on; NULL: not
 * known.
 */
CT_API unsigned ct_notes_of_room(const ct_room_out *, const ct_room_out *fan_on);

#ifdef __cplusplus
}
#endif
#endif
