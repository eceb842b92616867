//! Names, explanations and sources of the quantities. Soft hyphens let long names break in tables.

use super::QuantityWords;

const IEC_62127_1: &str = "IEC 62127-1";

fn words(name: &'static str, explanation: &'static str, reference: &'static str) -> QuantityWords {
    QuantityWords { name, explanation, reference }
}

pub fn quantity(id: &str) -> Option<QuantityWords> {
    Some(match id {
        "pc" => words(
            "Kompressions\u{ad}spitzendruck",
            "Der höchste positive Druck des Zeitverlaufs an dem Ort, an dem er am höchsten ist. Zwischen den Abtastwerten wird dem bandbegrenzten Verlauf bis zu seinem Scheitel gefolgt.",
            IEC_62127_1,
        ),
        "pr" => words(
            "Rarefaktions\u{ad}spitzendruck",
            "Der tiefste negative Druck (Unterdruckspitze), als positive Zahl gedruckt. Er entscheidet, ob Blasen entstehen.",
            IEC_62127_1,
        ),
        "pc_ss" => words(
            "Kompressions\u{ad}spitzendruck, eingeschwungen",
            "Mittel über die eingeschwungenen Schwingungen aus dem höchsten positiven Druck einer jeden. Eine einzelne Schwingung eines verrauschten oder nachklingenden Bursts kann herausragen; dieser Wert nicht.",
            "IEC 62127-1, einge\u{ad}schwungen",
        ),
        "pr_ss" => words(
            "Rarefaktions\u{ad}spitzendruck, eingeschwungen",
            "Mittel über die eingeschwungenen Schwingungen aus dem tiefsten negativen Druck einer jeden, als positive Zahl gedruckt.",
            "IEC 62127-1, einge\u{ad}schwungen",
        ),
        "ppsi" => words(
            "Pulsdruck\u{ad}quadrat-Integral",
            "Das Quadrat des Drucks, über den Puls aufsummiert; die Energie des Rauschens im selben Fenster ist abgezogen.",
            IEC_62127_1,
        ),
        "pii" => words(
            "Pulsintensitäts\u{ad}integral",
            "Energie eines Pulses je Fläche: das Pulsdruckquadrat-Integral durch Dichte mal Schallgeschwindigkeit (Beziehung für ebene Wellen).",
            IEC_62127_1,
        ),
        "td" => words(
            "Pulsdauer",
            "Das 1,25-Fache der Zeit, in der die aufgelaufene Energie von 10 % auf 90 % wächst.",
            IEC_62127_1,
        ),
        "i_on" => words(
            "Intensität während des Bursts",
            "Mittel von p²/(ρc) über ganze Schwingungen im eingeschwungenen Teil des Bursts.",
            "IEC 62127-1, ebene Welle",
        ),
        "isppa" => words(
            "räumliche Spitzen\u{ad}intensität, puls\u{ad}gemittelt",
            "Pulsintensitätsintegral am räumlichen Maximum durch die Pulsdauer.",
            IEC_62127_1,
        ),
        "ispta" => words(
            "räumliche Spitzen\u{ad}intensität, zeit\u{ad}gemittelt",
            "Intensität, über Ein- und Auszeiten gemittelt (räumlich-zeitliche Spitzenintensität). Im Messbecken wird das Tastverhältnis absichtlich klein gehalten; der dort gewonnene Wert sagt deshalb nichts über eine Behandlung.",
            IEC_62127_1,
        ),
        "f_awf_zero" => words(
            "akustische Arbeits\u{ad}frequenz, Null\u{ad}durchgänge",
            "Zahl der Halbwellen durch das Doppelte der Zeit, die sie brauchen.",
            IEC_62127_1,
        ),
        "f_awf_mean" => words(
            "akustische Arbeits\u{ad}frequenz, arith\u{ad}metisches Mittel",
            "Mitte der beiden Frequenzen, bei denen das Spektrum 3 dB unter seinem Maximum liegt.",
            IEC_62127_1,
        ),
        "bandwidth" => words(
            "Bandbreite bei −3 dB",
            "Abstand der beiden Frequenzen, bei denen das Spektrum 3 dB unter seinem Maximum liegt.",
            IEC_62127_1,
        ),
        "p1" => words(
            "Amplitude der Grund\u{ad}schwingung",
            "Amplitude des Anteils des Zeitverlaufs bei der Ansteuerfrequenz.",
            FOURIER,
        ),
        "h2" => words(
            "zweite Harmonische, bezogen auf die Grund\u{ad}schwingung",
            "Amplitude bei der doppelten Ansteuerfrequenz durch die bei der Ansteuerfrequenz. Sie wächst, wenn die Welle sich aufsteilt.",
            FOURIER,
        ),
        "h3" => words(
            "dritte Harmonische, bezogen auf die Grund\u{ad}schwingung",
            "Amplitude bei der dreifachen Ansteuerfrequenz durch die bei der Ansteuerfrequenz.",
            FOURIER,
        ),
        "h4" => words(
            "vierte Harmonische, bezogen auf die Grund\u{ad}schwingung",
            "Amplitude bei der vierfachen Ansteuerfrequenz durch die bei der Ansteuerfrequenz.",
            FOURIER,
        ),
        "h5" => words(
            "fünfte Harmonische, bezogen auf die Grund\u{ad}schwingung",
            "Amplitude bei der fünffachen Ansteuerfrequenz durch die bei der Ansteuerfrequenz.",
            FOURIER,
        ),
        "h6" => words(
            "sechste Harmonische, bezogen auf die Grund\u{ad}schwingung",
            "Amplitude bei der sechsfachen Ansteuerfrequenz durch die bei der Ansteuerfrequenz.",
            FOURIER,
        ),
        "h7" => words(
            "siebte Harmonische, bezogen auf die Grund\u{ad}schwingung",
            "Amplitude bei der siebenfachen Ansteuerfrequenz durch die bei der Ansteuerfrequenz.",
            FOURIER,
        ),
        "h8" => words(
            "achte Harmonische, bezogen auf die Grund\u{ad}schwingung",
            "Amplitude bei der achtfachen Ansteuerfrequenz durch die bei der Ansteuerfrequenz.",
            FOURIER,
        ),
        "h9" => words(
            "neunte Harmonische, bezogen auf die Grund\u{ad}schwingung",
            "Amplitude bei der neunfachen Ansteuerfrequenz durch die bei der Ansteuerfrequenz.",
            FOURIER,
        ),
        "h10" => words(
            "zehnte Harmonische, bezogen auf die Grund\u{ad}schwingung",
            "Amplitude bei der zehnfachen Ansteuerfrequenz durch die bei der Ansteuerfrequenz.",
            FOURIER,
        ),
        "thd" => words(
            "gesamte harmonische Verzerrung",
            "Wurzel aus der Summe der Quadrate der Harmonischen 2 bis 10, jede bezogen auf die Grundschwingung.",
            PRACTICE,
        ),
        "arrival" => words(
            "Ankunft",
            "Zeitpunkt nach dem Trigger, zu dem der Burst auf die halbe Amplitude gestiegen ist; gefolgt wird dem Mittel über eine Periode.",
            PRACTICE,
        ),
        "snr_db" => words(
            "Signal-Rausch-Abstand",
            "Pegel des Signals am Maximum über dem Rauschen vor der Ankunft, im Band des Tiefpasses.",
            PRACTICE,
        ),
        "nep" => words(
            "rausch\u{ad}äquivalenter Druck",
            "Effektivwert des Rauschens vor der Ankunft, als Druck, im Band des Tiefpasses.",
            IEC_62127_3,
        ),
        "nep_density" => words(
            "Dichte des rausch\u{ad}äquivalenten Drucks",
            "Rauschäquivalenter Druck durch die Wurzel der Bandbreite des Tiefpasses.",
            IEC_62127_3,
        ),
        "dynamic_range_db" => words(
            "Dynamik\u{ad}bereich",
            "Größter Druck, den Sensor und Digitalisierer fassen, bezogen auf den rauschäquivalenten Druck.",
            PRACTICE,
        ),
        "x_peak" => words("Ort des Maximums, x", PEAK, IEC_61828),
        "y_peak" => words("Ort des Maximums, y", PEAK, IEC_61828),
        "z_peak" => words(
            "Ort des Maximums, z",
            "Wo längs des Schallbündels das Pulsdruckquadrat-Integral am größten ist.",
            IEC_61828,
        ),
        "focus_shift" => words(
            "Druckfokus gegen geometrischen Fokus",
            "Ort des Maximums längs des Schallbündels weniger dem des Krümmungsmittelpunkts; negativ zum Kopf hin. Eine fokussierende Schale hat ihr Maximum etwas näher.",
            "O’Neil 1949",
        ),
        "x_peak_pc" => words("Ort des größten p_{c}, x", OWN_PEAK, IEC_61828),
        "y_peak_pc" => words("Ort des größten p_{c}, y", OWN_PEAK, IEC_61828),
        "x_peak_pr" => words("Ort des größten p_{r}, x", OWN_PEAK, IEC_61828),
        "y_peak_pr" => words("Ort des größten p_{r}, y", OWN_PEAK, IEC_61828),
        "z_peak_pc" => words("Ort des größten p_{c}, z", OWN_PEAK, IEC_61828),
        "z_peak_pr" => words("Ort des größten p_{r}, z", OWN_PEAK, IEC_61828),
        "width_x_3_pc" => words("Bündelbreite in x bei −3 dB, von p_{c}", WIDTH_PC, IEC_62127_3),
        "width_x_6_pc" => words("Bündelbreite in x bei −6 dB, von p_{c}", WIDTH_PC, IEC_62127_3),
        "width_x_12_pc" => words("Bündelbreite in x bei −12 dB, von p_{c}", WIDTH_PC, IEC_62127_3),
        "width_y_3_pc" => words("Bündelbreite in y bei −3 dB, von p_{c}", WIDTH_PC, IEC_62127_3),
        "width_y_6_pc" => words("Bündelbreite in y bei −6 dB, von p_{c}", WIDTH_PC, IEC_62127_3),
        "width_y_12_pc" => words("Bündelbreite in y bei −12 dB, von p_{c}", WIDTH_PC, IEC_62127_3),
        "area_6_pc" => words(
            "Bündelfläche bei −6 dB, von p_{c}",
            "Fläche innerhalb der Höhenlinie um das eigene Maximum, auf der der Kompressionsdruck 6 dB (Faktor 0,501) unter seinem größten Wert liegt.",
            IEC_62127_1,
        ),
        "width_x_3_pr" => words("Bündelbreite in x bei −3 dB, von p_{r}", WIDTH_PR, IEC_62127_3),
        "width_x_6_pr" => words("Bündelbreite in x bei −6 dB, von p_{r}", WIDTH_PR, IEC_62127_3),
        "width_x_12_pr" => words("Bündelbreite in x bei −12 dB, von p_{r}", WIDTH_PR, IEC_62127_3),
        "width_y_3_pr" => words("Bündelbreite in y bei −3 dB, von p_{r}", WIDTH_PR, IEC_62127_3),
        "width_y_6_pr" => words("Bündelbreite in y bei −6 dB, von p_{r}", WIDTH_PR, IEC_62127_3),
        "width_y_12_pr" => words("Bündelbreite in y bei −12 dB, von p_{r}", WIDTH_PR, IEC_62127_3),
        "area_6_pr" => words(
            "Bündelfläche bei −6 dB, von p_{r}",
            "Fläche innerhalb der Höhenlinie um das eigene Maximum, auf der der Rarefaktionsdruck 6 dB (Faktor 0,501) unter seinem größten Wert liegt.",
            IEC_62127_1,
        ),
        "width_major_6" => words(
            "größte Bündelbreite bei −6 dB",
            "Breite durch das Maximum längs der langen Achse des Schallbündels, die aus den zweiten Momenten seiner Energie folgt.",
            IEC_62127_3,
        ),
        "width_minor_6" => words(
            "kleinste Bündelbreite bei −6 dB",
            "Breite durch das Maximum quer zur langen Achse des Schallbündels.",
            IEC_62127_3,
        ),
        "axis_angle" => words(
            "Winkel der langen Achse des Schallbündels",
            "Von der x-Achse zur y-Achse hin. Bei einem runden Schallbündel ohne Bedeutung.",
            PRACTICE,
        ),
        "sidelobe_db" => words(
            "höchste Nebenkeule",
            "Höchster Pegel außerhalb der Hauptkeule, bezogen auf die Hauptkeule.",
            "IEC TS 62556",
        ),
        "tilt_x" => words("Neigung des Schallbündels nach x", TILT, PRACTICE),
        "tilt_y" => words("Neigung des Schallbündels nach y", TILT, PRACTICE),
        "axis_offset_x" => words("Versatz der Bündelachse am Kopf, x", AXIS_OFFSET, PRACTICE),
        "axis_offset_y" => words("Versatz der Bündelachse am Kopf, y", AXIS_OFFSET, PRACTICE),
        "isal" => words(
            "räumlich gemittelte Intensität, linear",
            "Mittel der Intensität während des Bursts innerhalb der Höhenlinie, auf der der Druck auf die Hälfte gefallen ist, auf einer Stufe, die niedrig genug ist, dass die Welle sich nicht aufsteilt.",
            "Hill et al. 1994",
        ),
        "isata" => words(
            "räumlich und zeitlich gemittelte Intensität",
            "Mittel der zeitgemittelten Intensität innerhalb der −6-dB-Höhenlinie des Pulsdruckquadrat-Integrals.",
            IEC_62127_1,
        ),
        "era" => words(
            "effektive Abstrahlfläche",
            "4/3 der kleinsten Fläche, die drei Viertel des mittleren Druckquadrats fasst; für nicht fokussierende Köpfe, nahe ihrer Oberfläche.",
            IEC_61689,
        ),
        "bnr" => words(
            "Inhomogenitäts\u{ad}verhältnis des Schallbündels",
            "Größte Intensität durch die mittlere Intensität in der effektiven Abstrahlfläche (R_{BN}); für nicht fokussierende Köpfe.",
            IEC_61689,
        ),
        "power_ta_angular" => words(
            "zeit\u{ad}gemittelte Leistung, Winkel\u{ad}spektrum",
            "Leistung während des Bursts nach dem Winkelspektrum mal Tastverhältnis.",
            "Winkel\u{ad}spektrum",
        ),
        "length_6_pc" => words("Fokustiefe bei −6 dB, von p_{c}", DEPTH_OWN, IEC_61828),
        "length_6_pr" => words("Fokustiefe bei −6 dB, von p_{r}", DEPTH_OWN, IEC_61828),
        "width_x_3" => words("Bündelbreite in x bei −3 dB", WIDTH, IEC_62127_3),
        "width_x_6" => words("Bündelbreite in x bei −6 dB", WIDTH, IEC_62127_3),
        "width_x_12" => words("Bündelbreite in x bei −12 dB", WIDTH, IEC_62127_3),
        "width_y_3" => words("Bündelbreite in y bei −3 dB", WIDTH, IEC_62127_3),
        "width_y_6" => words("Bündelbreite in y bei −6 dB", WIDTH, IEC_62127_3),
        "width_y_12" => words("Bündelbreite in y bei −12 dB", WIDTH, IEC_62127_3),
        "area_6" => words(
            "Bündelfläche bei −6 dB",
            "Fläche innerhalb der Höhenlinie um das Maximum, auf der das Pulsdruckquadrat-Integral 6 dB unter seinem größten Wert liegt.",
            IEC_62127_1,
        ),
        "power_on_plane_wave" => words(
            "Leistung während des Bursts, ebene Welle",
            "Energie eines Pulses durch die gemessene Ebene, geteilt durch die Zeit, für die der Burst ansteht; jeder Punkt gilt als ebene Welle. Was außerhalb des Fensters liegt, fehlt.",
            "IEC 62127-1, ebene Welle",
        ),
        "power_ta_plane_wave" => words(
            "zeit\u{ad}gemittelte Leistung, ebene Welle",
            "Leistung während des Bursts mal Tastverhältnis.",
            "IEC 62127-1, ebene Welle",
        ),
        "power_on_angular" => words(
            "Leistung während des Bursts, Winkel\u{ad}spektrum",
            "Leistung des komplexen Felds der Ebene, jede ebene Welle nach ihrer Schräge gewichtet.",
            "Winkel\u{ad}spektrum",
        ),
        "sensitivity_change" => words(
            "Änderung der Empfind\u{ad}lichkeit des Sensors",
            "Mittlere Anzeige einer Prüfquelle nach den Scans durch die vor ihnen, weniger eins.",
            PRACTICE,
        ),
        "length_3" => words("Fokustiefe bei −3 dB", DEPTH, IEC_61828),
        "length_6" => words("Fokustiefe bei −6 dB", DEPTH, IEC_61828),
        "pr_derated" => words(
            "gedämpfter Rarefaktions\u{ad}spitzendruck",
            "Rarefaktionsdruck, wo das gedämpfte Pulsintensitäts-Integral längs der Achse am größten ist, vermindert um 0,3 dB je Zentimeter und Megahertz bis dorthin.",
            DERATED,
        ),
        "isppa_derated" => words(
            "gedämpfte pulsgemittelte Spitzen\u{ad}intensität",
            "Gedämpftes Pulsintensitäts-Integral, wo es längs der Achse am größten ist, geteilt durch die Pulsdauer dort.",
            DERATED,
        ),
        "ispta_derated" => words(
            "gedämpfte zeitgemittelte Spitzen\u{ad}intensität",
            "Über die angegebene Exposition gemittelte Intensität, wo das gedämpfte Pulsintensitäts-Integral am größten ist, vermindert um 0,3 dB je Zentimeter und Megahertz bis dorthin.",
            DERATED,
        ),
        "mi" => words(
            "mechanischer Index",
            "Gedämpfter Rarefaktionsdruck in MPa durch die Wurzel der Arbeitsfrequenz in MHz. Für kurze diagnostische Pulse gemacht: Ob ein langer Burst Blasen erzeugt, sagt er nicht.",
            IEC_62359,
        ),
        "tis" => words(
            "thermischer Index, Weichgewebe",
            "Leistung bei der angegebenen Exposition durch jene, der eine Erwärmung von Weichgewebe um 1 °C zugeschrieben wird. Für Diagnostikgeräte gemacht: keine Temperatur.",
            IEC_62359,
        ),
        "tib" => words(
            "thermischer Index, Knochen im Fokus",
            "Leistung und Intensität bei der angegebenen Exposition, bezogen auf jene, denen eine Erwärmung von Knochen in der Tiefe um 1 °C zugeschrieben wird. Für Diagnostikgeräte gemacht: keine Temperatur.",
            IEC_62359,
        ),
        "tic" => words(
            "thermischer Index, Schädelknochen",
            "Leistung bei der angegebenen Exposition je Durchmesser des Kopfs, bezogen auf jene, der eine Erwärmung von Knochen an der Oberfläche um 1 °C zugeschrieben wird. Für Diagnostikgeräte gemacht: keine Temperatur.",
            IEC_62359,
        ),
        _ => return None,
    })
}

const FOURIER: &str = "Fourier-Koeffi\u{ad}zient";
const PRACTICE: &str = "übliche Praxis";
const IEC_61689: &str = "IEC 61689, aus dem Gedächtnis";
const IEC_62359: &str = "IEC 62359, Formel aus dem Gedächtnis";
const DERATED: &str = "IEC 62359; AIUM/NEMA UD 2 (gedämpft)";
const IEC_62127_3: &str = "IEC 62127-3";
const IEC_61828: &str = "IEC 61828";
const PEAK: &str = "Wo das Pulsdruckquadrat-Integral am größten ist, zwischen den Punkten nach einer Ausgleichsfläche.";
const WIDTH: &str = "Abstand der beiden Stellen, an denen das Pulsdruckquadrat-Integral auf den Pegel gefallen ist, auf einer Linie durch das Maximum.";
const WIDTH_PC: &str = "Abstand der beiden Stellen, an denen der Kompressionsdruck auf den Pegel gefallen ist (−6 dB sind ein Faktor von 0,501), auf einer Linie durch sein eigenes Maximum.";
const WIDTH_PR: &str = "Abstand der beiden Stellen, an denen der Rarefaktionsdruck auf den Pegel gefallen ist (−6 dB sind ein Faktor von 0,501), auf einer Linie durch sein eigenes Maximum.";
const OWN_PEAK: &str = "Wo dieser Druck selbst am größten ist. In einem aufgesteilten Feld liegt das Kompressionsmaximum tiefer und ist schmaler als das Rarefaktionsmaximum.";
const AXIS_OFFSET: &str = "Wo die Bündelachse, vom Maximum längs ihrer Neigung zurückverfolgt, die Ebene des Kopfs trifft, in der z beginnt. Ein Fehler der Neigung zählt mit dem ganzen Abstand.";
const TILT: &str = "Winkel der Bündelachse zur z-Achse, aus dem Verlauf der Phase der Grundschwingung quer durch die Hauptkeule.";
const DEPTH_OWN: &str = "Abstand der beiden Stellen längs des Schallbündels, an denen dieser Druck um 6 dB (Faktor 0,501) gefallen ist.";
const DEPTH: &str = "Abstand der beiden Stellen längs des Schallbündels, an denen das Pulsdruckquadrat-Integral auf den Pegel gefallen ist.";
