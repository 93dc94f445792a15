/* calendar_words: names of weekdays, Monday first, full and short ones of a day
 * joined by `|`. From the locales of Debian
 * 12's GNU C library (2.36), which are those of Unicode's CLDR; without dots.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef BASE_CALENDAR_WORDS_H
#define BASE_CALENDAR_WORDS_H

typedef struct {
    const char *language, *weekdays;
} CalendarWords;

static const CalendarWords calendar_words[] = {
    {"English", "Monday|Mon Tuesday|Tue Wednesday|Wed Thursday|Thu Friday|Fri "
                "Saturday|Sat Sunday|Sun"},
    {"German", "Montag|Mo Dienstag|Di Mittwoch|Mi Donnerstag|Do Freitag|Fr "
               "Samstag|Sa Sonntag|So"},
    {"French", "lundi|lun mardi|mar mercredi|mer jeudi|jeu vendredi|ven "
               "samedi|sam dimanche|dim"},
    {"Spanish", "lunes|lun martes|mar miércoles|mié jueves|jue viernes|vie "
                "sábado|sáb domingo|dom"},
    {"Italian", "lunedì|lun martedì|mar mercoledì|mer giovedì|gio "
                "venerdì|ven sabato|sab domenica|dom"},
    {"Portuguese", "segunda|seg terça|ter quarta|qua quinta|qui sexta|sex "
                   "sábado|sáb domingo|dom"},
    {"Dutch", "maandag|ma dinsdag|di woensdag|wo donderdag|do vrijdag|vr "
              "zaterdag|za zondag|zo"},
    {"Swedish", "måndag|mån tisdag|tis onsdag|ons torsdag|tor fredag|fre "
                "lördag|lör söndag|sön"},
    {"Danish", "mandag|man tirsdag|tir onsdag|ons torsdag|tor fredag|fre "
               "lørdag|lør søndag|søn"},
    {"Norwegian", "mandag|ma tirsdag|ti onsdag|on torsdag|to fredag|fr "
                  "lørdag|lø søndag|sø"},
    {"Icelandic", "mánudagur|mán þriðjudagur|þri miðvikudagur|mið "
                  "fimmtudagur|fim föstudagur|fös laugardagur|lau "
                  "sunnudagur|sun"},
    {"Finnish", "maanantai|ma tiistai|ti keskiviikko|ke torstai|to "
                "perjantai|pe lauantai|la sunnuntai|su"},
    {"Estonian", "esmaspäev|E teisipäev|T kolmapäev|K neljapäev|N reede|R "
                 "laupäev|L pühapäev|P"},
    {"Latvian", "pirmdiena|P otrdiena|O trešdiena|T ceturtdiena|C "
                "piektdiena|Pk sestdiena|S svētdiena|Sv"},
    {"Lithuanian", "Pirmadienis|Pr Antradienis|An Trečiadienis|Tr "
                   "Ketvirtadienis|Kt Penktadienis|Pn Šeštadienis|Št "
                   "Sekmadienis|Sk"},
    {"Polish", "poniedziałek|pon wtorek|wto środa|śro czwartek|czw "
               "piątek|pią sobota|sob niedziela|nie"},
    {"Czech", "Pondělí|Po Úterý|Út Středa|St Čtvrtek|Čt Pátek|Pá Sobota|So "
              "Neděle|Ne"},
    {"Slovak", "Pondelok|Po Utorok|Ut Streda|St Štvrtok|Št Piatok|Pi "
               "Sobota|So Nedeľa|Ne"},
    {"Slovenian", "ponedeljek|pon torek|tor sreda|sre četrtek|čet petek|pet "
                  "sobota|sob nedelja|ned"},
    {"Croatian", "ponedjeljak|pon utorak|uto srijeda|sri četvrtak|čet "
                 "petak|pet subota|sub nedjelja|ned"},
    {"Hungarian", "hétfő|h kedd|k szerda|sze csütörtök|cs péntek|p szombat|szo "
                  "vasárnap|v"},
    {"Romanian", "luni|Lu marți|Ma miercuri|Mi joi|Jo vineri|Vi sâmbătă|Sb "
                 "duminică|Du"},
    {"Turkish", "Pazartesi|Pzt Salı|Sal Çarşamba|Çrş Perşembe|Prş Cuma|Cum "
                "Cumartesi|Cts Pazar|Paz"},
    {"Catalan", "dilluns|dl dimarts|dt dimecres|dc dijous|dj divendres|dv "
                "dissabte|ds diumenge|dg"},
    {"Greek", "Δευτέρα|Δευ Τρίτη|Τρι Τετάρτη|Τετ Πέμπτη|Πεμ Παρασκευή|Παρ "
              "Σάββατο|Σαβ Κυριακή|Κυρ"},
    {"Russian", "Понедельник|Пн Вторник|Вт Среда|Ср Четверг|Чт Пятница|Пт "
                "Суббота|Сб Воскресенье|Вс"},
    {"Bulgarian", "понеделник|пн вторник|вт сряда|ср четвъртък|чт петък|пт "
                  "събота|сб неделя|нд"},
    {"Serbian", "понедељак|пон уторак|уто среда|сре четвртак|чет петак|пет "
                "субота|суб недеља|нед"},
};

#endif
