/* calendar_words: names of weekdays and months, Monday and January first, full
 * and short ones of a day or month joined by `|`. From the locales of Debian
 * 12's GNU C library (2.36), which are those of Unicode's CLDR; without dots.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef BASE_CALENDAR_WORDS_H
#define BASE_CALENDAR_WORDS_H

typedef struct {
    const char *language, *weekdays, *months;
} CalendarWords;

static const CalendarWords calendar_words[] = {
    {"English",
     "Monday|Mon Tuesday|Tue Wednesday|Wed Thursday|Thu Friday|Fri "
     "Saturday|Sat Sunday|Sun",
     "January|Jan February|Feb March|Mar April|Apr May June|Jun July|Jul "
     "August|Aug September|Sep October|Oct November|Nov December|Dec"},
    {"German",
     "Montag|Mo Dienstag|Di Mittwoch|Mi Donnerstag|Do Freitag|Fr "
     "Samstag|Sa Sonntag|So",
     "Januar|Jan Februar|Feb März|Mär April|Apr Mai Juni|Jun "
     "Juli|Jul August|Aug September|Sep Oktober|Okt November|Nov "
     "Dezember|Dez"},
    {"French",
     "lundi|lun mardi|mar mercredi|mer jeudi|jeu vendredi|ven "
     "samedi|sam dimanche|dim",
     "janvier|janv février|févr mars avril mai juin juillet|juil "
     "août septembre|sept octobre|oct novembre|nov décembre|déc"},
    {"Spanish",
     "lunes|lun martes|mar miércoles|mié jueves|jue viernes|vie "
     "sábado|sáb domingo|dom",
     "enero|ene febrero|feb marzo|mar abril|abr mayo|may "
     "junio|jun julio|jul agosto|ago septiembre|sep octubre|oct "
     "noviembre|nov diciembre|dic"},
    {"Italian",
     "lunedì|lun martedì|mar mercoledì|mer giovedì|gio "
     "venerdì|ven sabato|sab domenica|dom",
     "gennaio|gen febbraio|feb marzo|mar aprile|apr maggio|mag "
     "giugno|giu luglio|lug agosto|ago settembre|set ottobre|ott "
     "novembre|nov dicembre|dic"},
    {"Portuguese",
     "segunda|seg terça|ter quarta|qua quinta|qui sexta|sex "
     "sábado|sáb domingo|dom",
     "janeiro|jan fevereiro|fev março|mar abril|abr maio|mai "
     "junho|jun julho|jul agosto|ago setembro|set outubro|out "
     "novembro|nov dezembro|dez"},
    {"Dutch",
     "maandag|ma dinsdag|di woensdag|wo donderdag|do vrijdag|vr "
     "zaterdag|za zondag|zo",
     "januari|jan februari|feb maart|mrt april|apr mei juni|jun "
     "juli|jul augustus|aug september|sep oktober|okt "
     "november|nov december|dec"},
    {"Swedish",
     "måndag|mån tisdag|tis onsdag|ons torsdag|tor fredag|fre "
     "lördag|lör söndag|sön",
     "januari|jan februari|feb mars|mar april|apr maj juni|jun "
     "juli|jul augusti|aug september|sep oktober|okt november|nov "
     "december|dec"},
    {"Danish",
     "mandag|man tirsdag|tir onsdag|ons torsdag|tor fredag|fre "
     "lørdag|lør søndag|søn",
     "januar|jan februar|feb marts|mar april|apr maj juni|jun "
     "juli|jul august|aug september|sep oktober|okt november|nov "
     "december|dec"},
    {"Norwegian",
     "mandag|ma tirsdag|ti onsdag|on torsdag|to fredag|fr "
     "lørdag|lø søndag|sø",
     "januar|jan februar|feb mars april mai juni juli august|aug "
     "september|sep oktober|okt november|nov desember|des"},
    {"Icelandic",
     "mánudagur|mán þriðjudagur|þri miðvikudagur|mið "
     "fimmtudagur|fim föstudagur|fös laugardagur|lau "
     "sunnudagur|sun",
     "janúar|jan febrúar|feb mars|mar apríl|apr maí júní|jún "
     "júlí|júl ágúst|ágú september|sep október|okt nóvember|nóv "
     "desember|des"},
    {"Finnish",
     "maanantai|ma tiistai|ti keskiviikko|ke torstai|to "
     "perjantai|pe lauantai|la sunnuntai|su",
     "tammikuu|tammi helmikuu|helmi maaliskuu|maalis "
     "huhtikuu|huhti toukokuu|touko kesäkuu|kesä heinäkuu|heinä "
     "elokuu|elo syyskuu|syys lokakuu|loka marraskuu|marras "
     "joulukuu|joulu"},
    {"Estonian",
     "esmaspäev|E teisipäev|T kolmapäev|K neljapäev|N reede|R "
     "laupäev|L pühapäev|P",
     "jaanuar|jaan veebruar|veebr märts aprill|apr mai juuni "
     "juuli august|aug september|sept oktoober|okt november|nov "
     "detsember|dets"},
    {"Latvian",
     "pirmdiena|P otrdiena|O trešdiena|T ceturtdiena|C "
     "piektdiena|Pk sestdiena|S svētdiena|Sv",
     "janvāris|jan februāris|feb marts|mar aprīlis|apr maijs|mai "
     "jūnijs|jūn jūlijs|jūl augusts|aug septembris|sep "
     "oktobris|okt novembris|nov decembris|dec"},
    {"Lithuanian",
     "Pirmadienis|Pr Antradienis|An Trečiadienis|Tr "
     "Ketvirtadienis|Kt Penktadienis|Pn Šeštadienis|Št "
     "Sekmadienis|Sk",
     "sausio|saus|sausis vasario|vas|vasaris kovo|kov|kovas "
     "balandžio|bal|balandis gegužės|geg|gegužė "
     "birželio|birž|birželis liepos|liep|liepa "
     "rugpjūčio|rugp|rugpjūtis rugsėjo|rugs|rugsėjis "
     "spalio|spal|spalis lapkričio|lapkr|lapkritis "
     "gruodžio|gruod|gruodis"},
    {"Polish",
     "poniedziałek|pon wtorek|wto środa|śro czwartek|czw "
     "piątek|pią sobota|sob niedziela|nie",
     "stycznia|sty|styczeń lutego|lut|luty marca|mar|marzec "
     "kwietnia|kwi|kwiecień maja|maj czerwca|cze|czerwiec "
     "lipca|lip|lipiec sierpnia|sie|sierpień "
     "września|wrz|wrzesień października|paź|październik "
     "listopada|lis|listopad grudnia|gru|grudzień"},
    {"Czech",
     "Pondělí|Po Úterý|Út Středa|St Čtvrtek|Čt Pátek|Pá Sobota|So "
     "Neděle|Ne",
     "ledna|led|leden února|úno|únor března|bře|březen "
     "dubna|dub|duben května|kvě|květen června|čen|červen "
     "července|čec|červenec srpna|srp|srpen září|zář "
     "října|říj|říjen listopadu|lis|listopad "
     "prosince|pro|prosinec"},
    {"Slovak",
     "Pondelok|Po Utorok|Ut Streda|St Štvrtok|Št Piatok|Pi "
     "Sobota|So Nedeľa|Ne",
     "január|jan február|feb marec|mar apríl|apr máj jún júl "
     "august|aug september|sep október|okt november|nov "
     "december|dec"},
    {"Slovenian",
     "ponedeljek|pon torek|tor sreda|sre četrtek|čet petek|pet "
     "sobota|sob nedelja|ned",
     "januar|jan februar|feb marec|mar april|apr maj junij|jun "
     "julij|jul avgust|avg september|sep oktober|okt november|nov "
     "december|dec"},
    {"Croatian",
     "ponedjeljak|pon utorak|uto srijeda|sri četvrtak|čet "
     "petak|pet subota|sub nedjelja|ned",
     "siječnja|sij|siječanj veljače|velj|veljača "
     "ožujka|ožu|ožujak travnja|tra|travanj svibnja|svi|svibanj "
     "lipnja|lip|lipanj srpnja|srp|srpanj kolovoza|kol|kolovoz "
     "rujna|ruj|rujan listopada|lis|listopad "
     "studenoga|stu|studeni prosinca|pro|prosinac"},
    {"Hungarian",
     "hétfő|h kedd|k szerda|sze csütörtök|cs péntek|p szombat|szo "
     "vasárnap|v",
     "január|jan február|febr március|márc április|ápr május|máj "
     "június|jún július|júl augusztus|aug szeptember|szept "
     "október|okt november|nov december|dec"},
    {"Romanian",
     "luni|Lu marți|Ma miercuri|Mi joi|Jo vineri|Vi sâmbătă|Sb "
     "duminică|Du",
     "ianuarie|ian februarie|feb martie|mar aprilie|apr mai "
     "iunie|iun iulie|iul august|aug septembrie|sep octombrie|oct "
     "noiembrie|nov decembrie|dec"},
    {"Turkish",
     "Pazartesi|Pzt Salı|Sal Çarşamba|Çrş Perşembe|Prş Cuma|Cum "
     "Cumartesi|Cts Pazar|Paz",
     "Ocak|Oca Şubat|Şub Mart|Mar Nisan|Nis Mayıs|May Haziran|Haz "
     "Temmuz|Tem Ağustos|Ağu Eylül|Eyl Ekim|Eki Kasım|Kas "
     "Aralık|Ara"},
    {"Catalan",
     "dilluns|dl dimarts|dt dimecres|dc dijous|dj divendres|dv "
     "dissabte|ds diumenge|dg",
     "gener|gen febrer|febr març abril|abr maig juny juliol|jul "
     "agost|ag setembre|set octubre|oct novembre|nov desembre|des"},
    {"Greek",
     "Δευτέρα|Δευ Τρίτη|Τρι Τετάρτη|Τετ Πέμπτη|Πεμ Παρασκευή|Παρ "
     "Σάββατο|Σαβ Κυριακή|Κυρ",
     "Ιανουαρίου|Ιαν|Ιανουάριος Φεβρουαρίου|Φεβ|Φεβρουάριος "
     "Μαρτίου|Μαρ|Μάρτιος Απριλίου|Απρ|Απρίλιος Μαΐου|Μαΐ|Μάιος "
     "Ιουνίου|Ιουν|Ιούνιος Ιουλίου|Ιουλ|Ιούλιος "
     "Αυγούστου|Αυγ|Αύγουστος Σεπτεμβρίου|Σεπ|Σεπτέμβριος "
     "Οκτωβρίου|Οκτ|Οκτώβριος Νοεμβρίου|Νοε|Νοέμβριος "
     "Δεκεμβρίου|Δεκ|Δεκέμβριος"},
    {"Russian",
     "Понедельник|Пн Вторник|Вт Среда|Ср Четверг|Чт Пятница|Пт "
     "Суббота|Сб Воскресенье|Вс",
     "января|янв|Январь февраля|фев|Февраль марта|мар|Март "
     "апреля|апр|Апрель мая|Май июня|июн|Июнь июля|июл|Июль "
     "августа|авг|Август сентября|сен|Сентябрь "
     "октября|окт|Октябрь ноября|ноя|Ноябрь декабря|дек|Декабрь"},
    {"Bulgarian",
     "понеделник|пн вторник|вт сряда|ср четвъртък|чт петък|пт "
     "събота|сб неделя|нд",
     "януари|яну февруари|фев март|мар април|апр май юни юли "
     "август|авг септември|сеп октомври|окт ноември|ное "
     "декември|дек"},
    {"Serbian",
     "понедељак|пон уторак|уто среда|сре четвртак|чет петак|пет "
     "субота|суб недеља|нед",
     "јануар|јан фебруар|феб март|мар април|апр мај јун јул "
     "август|авг септембар|сеп октобар|окт новембар|нов "
     "децембар|дец"},
};

#endif
