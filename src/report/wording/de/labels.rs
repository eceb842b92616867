//! Short words: headings, labels, axis names, the blanks of the record.

pub fn label(key: &str) -> Option<&'static str> {
    front(key).or_else(|| sections(key)).or_else(|| figures(key)).or_else(|| notes(key))
}

fn front(key: &str) -> Option<&'static str> {
    Some(match key {
        "document-kind" => "Messblatt: Abgabe eines Ultraschall-Behandlungskopfs in Wasser",
        "untitled" => "Messung ohne Titel",
        "sensor-sensitivity" => "Empfindlichkeit",
        "sensitivity-table" => "nach Tabelle über der Frequenz",
        "table-gain" => "Verstärkung nach der Ebene der Tabelle",
        "sensitivity-check-source" => "nach Prüfquelle",
        "distance" => "Abstand vom Kopf",
        "file-unit" => "Eine Einheit der Abtastwerte",
        "no-value" => "kein Wert",
        "not-stated" => "nicht angegeben",
        "stated" => "angegeben",
        "device" => "Gerät",
        "serial" => "Seriennummer",
        "site" => "Ort",
        "date" => "Datum der Messung",
        "measured-by" => "Gemessen von",
        "customer" => "Auftraggeber",
        "issued" => "Ausgestellt am",
        "sheet-number" => "Blattnummer",
        "number-pending" => "Blattnummer folgt",
        "sentence-delivered" => "lieferte der Kopf",
        "sentence-pc" => "einen Kompressionsspitzendruck von",
        "sentence-pr" => "einen Rarefaktionsspitzendruck von",
        "sentence-intensity" => "dazu eine Intensität von",
        "sentence-nothing" => " eine Abgabe, die sich aus diesen Daten nicht bestimmen lässt.",
        "and" => "und",
        "not-a-patient" => {
            "Das ist die Abgabe in Wasser, nicht Druck oder Wärme im Patienten; Genauigkeit und Sicherheit einer Behandlung wurden nicht geprüft."
        }
        "caution-1" => {
            "Gemessen in Wasser. Werte im Gewebe sind andere und werden hier nicht angegeben."
        }
        "caution-2" => {
            "Dieses Blatt ist weder eine Freigabe des Geräts noch eine Vorgabe für eine Behandlung. Es gilt für diesen Kopf, wie er gemessen wurde; nur vollständig weitergeben."
        }
        "caution-3" => {
            "Für Fachkundige; maßgebend sind die örtlichen Vorschriften und die befugte Fachkraft."
        }
        "running-caution" => "in Wasser gemessen; keine Freigabe, keine Behandlungsvorgabe",
        "signature-measured" => "Gemessen von, Datum",
        "signature-checked" => "Geprüft von, Datum",
        "no-plane" => "Es wurde keine Ebene gemessen: Breiten, Fläche und Leistung fehlen.",
        "no-axial" => "Kein Scan längs des Schallbündels: die Fokustiefe fehlt.",
        "no-uncertainty" => "Messunsicherheiten wurden nicht ausgewertet.",
        "nothing-stated" => "Es sind keine Werte angegeben: beurteilt wurde nichts.",
        "without-uncertainty" => "Messunsicherheit nicht ausgewertet",
        "outcome-conforms" => "erfüllt",
        "outcome-does-not-conform" => "nicht erfüllt",
        "outcome-undecided" => "nicht entschieden",
        "stated-in" => "Angegeben in:",
        "unless-said" => "soweit nicht anders vermerkt",
        "verdicts-more" => "weitere, siehe Konformität und Wiederholungen.",
        "at-most" => "höchstens",
        "at-least" => "mindestens",
        "probability" => "Wahrschein\u{ad}lichkeit",
        "e-n" => "E_{n}",
        "verdict-limits" => "Toleranz",
        "verdict-conditions" => "Angegeben für",
        "verdicts-table" => "Grenzen und Bedingungen der angegebenen Werte",
        "changes-lead" => "Nach der ersten Berechnung geändert:",
        "changes-entered" => "Nach der ersten Berechnung ausgefüllt: {} (siehe Änderungen).",
        "changes-more" => "weitere, siehe Änderungen.",
        "changes-caption" => {
            "Änderungen nach der ersten Berechnung, von denen ein Ergebnis abhängt"
        }
        "changes-time" => "Zeit",
        "changes-field" => "Was",
        "changes-old" => "Vorher",
        "changes-new" => "Nachher",
        "changed-stated" => "angegebener Wert",
        "changed-stated_file" => "Tabelle der angegebenen Werte",
        "changed-decision" => "Entscheidungsregel",
        "changed-uncertainties" => "Unsicherheitsquelle",
        "changed-sensor" => "Kalibrierung",
        "changed-analysis" => "Auswertung",
        "changed-exposure" => "Beschallung bei der Behandlung",
        "changed-readings" => "Ablesung",
        "changed-scans" => "Scan",
        "changed-key-value" => "Wert",
        "changed-key-lower" => "untere Grenze",
        "changed-key-upper" => "obere Grenze",
        "changed-key-rule" => "Regel",
        "changed-key-min_probability" => "Mindestwahrscheinlichkeit",
        "changed-key-coverage" => "Überdeckung",
        "changed-key-v_per_pa" => "Faktor",
        "changed-key-mv_per_mpa" => "Faktor",
        "changed-key-gain_db" => "Verstärkung",
        "changed-key-db_re_1v_per_upa" => "Faktor in dB",
        "changed-key-scale" => "Größe einer Einheit",
        "changed-key-unit" => "Einheit",
        "changed-key-uncertainty" => "Unsicherheit",
        "changed-key-role" => "Rolle",
        "changed-key-axes" => "Lesart der Datei",
        "changed-key-x" => "x-Orte",
        "changed-key-y" => "y-Orte",
        "changed-key-z" => "z-Orte",
        "changed-key-time" => "Zeiten",
        "changed-key-serpentine" => "Reihenfolge der Zeilen",
        "changed-key-kind" => "Art",
        "changed-key-file" => "Datei",
        "changed-key-tolerance" => "Toleranz",
        "changed-key-response" => "Empfindlichkeit",
        "changed-key-distance_m" => "Abstand vom Kopf",
        "changed-key-certificate" => "Kalibrierschein",
        "changed-key-calibrated" => "Tag der Kalibrierung",
        "changed-key-due" => "Tag der nächsten Kalibrierung",
        "changed-key-exclude" => "ausgelassene Punkte",
        "repeats-of" => "Wiederholungen:",
        "repeats-limits" => "Einseitige statistische Anteilsgrenzen, Anteil / Vertrauensniveau",
        "repeats-few" => "Statistische Anteilsgrenzen brauchen mindestens drei Wiederholungen",
        "repeats-n" => "n",
        "repeats-mean" => "Mittelwert",
        "repeats-s" => "s",
        "repeats-low" => "Untere Grenze",
        "repeats-high" => "Obere Grenze",
        "severity-note" => "Hinweis",
        "severity-caution" => "Vorsicht",
        "severity-unfit" => "Ungeeignet",
        _ => return None,
    })
}

fn sections(key: &str) -> Option<&'static str> {
    Some(match key {
        "section-conditions" => "Bedingungen und Geräte",
        "section-calibration" => "Kalibrierung",
        "section-field" => "Das Feld",
        "section-wave" => "Die Welle",
        "section-quantities" => "Messgrößen",
        "section-verdicts" => "Konformität und Wiederholungen",
        "section-changes" => "Änderungen",
        "section-fitness" => "Eignung der Daten",
        "section-safety" => "Werte nach den Regeln für Diagnostikgeräte",
        "safety-caution" => {
            "Diese Werte folgen den Regeln für Diagnostikgeräte und wurden berechnet, weil das Protokoll sie verlangt. Sie besagen nicht, dass der Kopf oder eine Behandlung sicher ist: Die Regeln kennen weder eine therapeutische Exposition noch das behandelte Gewebe, und Grenzwerte für Diagnostikgeräte gelten nicht für einen Therapiekopf. Es sind keine Angaben eines Herstellers, und nach ihnen wird nichts beurteilt."
        }
        "safety-derating" => {
            "Gedämpfte Werte: die im Wasser, vermindert um 0,3 dB cm⁻¹ MHz⁻¹ vom Kopf bis zu ihrer Tiefe, Drücke mal 10^(−0,3 f z/20), Intensitäten mal 10^(−0,3 f z/10), f in MHz, z in cm. Die Tiefe ist die, in der das gedämpfte Pulsintensitäts-Integral längs der Achse am größten ist."
        }
        "safety-thermal" => {
            "Thermische Indizes: die eines nicht abtastenden Bündels, aus zeitlich gemittelter Leistung und Intensität bei der angegebenen Exposition; unter der Oberfläche an den Stützstellen der Achse."
        }
        "safety-at" => "in {depth} Abstand vom Kopf, f = {frequency}",
        "safety-rests-on" => "Worauf sie beruhen",
        "safety-depth" => "Tiefe des größten gedämpften I_{pi}",
        "safety-frequency" => "Arbeitsfrequenz",
        "safety-power" => "Leistung bei der Exposition",
        "safety-aperture" => "abstrahlende Fläche",
        "safety-distortion" => "lokaler Verzerrungsparameter",
        "section-method" => "Verfahren",
        "section-provenance" => "Herkunft",
        "section-glossary" => "Glossar",
        "what-it-is" => "Was es ist",
        "symbol" => "Zeichen",
        "head" => "Kopf",
        "water" => "Wasser",
        "drive-heading" => "Ansteuerung",
        "sensor-heading" => "Sensor",
        "nominal-frequency" => "Nennfrequenz",
        "aperture-radius" => "Radius der Apertur",
        "radius-of-curvature" => "Krümmungsradius",
        "software-version" => "Softwarestand",
        "operating-hours" => "Betriebsstunden",
        "water-temperature" => "Temperatur",
        "water-treatment" => "Aufbereitung",
        "oxygen" => "Sauerstoff",
        "sound-speed" => "Schall\u{ad}geschwindigkeit",
        "density" => "Dichte",
        "frequency" => "Frequenz",
        "cycles" => "Schwingungen je Burst",
        "repetition-rate" => "Wiederholrate",
        "drive-level" => "Stufe",
        "exposure" => "Beschallung bei der Behandlung",
        "sensor" => "Beschreibung",
        "effective-radius" => "Effektiver Radius",
        "as-table" => "als Tabelle über der Frequenz",
        "full-scale" => "Vollausschlag",
        "bits" => "Bits",
        "u-temperature" => "u der Temperatur",
        "u-drive" => "Unsicherheit der Ansteuerung",
        "u-gain" => "Unsicherheit der Verstärkung",
        // As they are typed.
        "u-kind-standard" => "standard",
        "u-kind-half-width" => "half-width",
        "exposure-mode" => "Behandlung: Betrieb",
        "mode-cw" => "Dauerschall",
        "mode-burst" => "Bursts",
        "exposure-train" => "Behandlung: gesamte Folge",
        "exposure-level" => "Behandlung: Pegel",
        "exposure-source" => "Behandlung: angegeben in",
        "stated-in-file" => "aus der Datei {file}; geändert wird ein Wert dort",
        "exposure-burst" => "Behandlung: Burst",
        "exposure-repetition" => "Behandlung: Bursts je Sekunde",
        "decision-heading" => "Entscheidungsregel",
        "decision-rule" => "Regel",
        "rule-guarded-both-sides" => "Schutzabstand nach beiden Seiten",
        "rule-simple" => "einfache Annahme",
        "rule-guard-expanded" => "Schutzabstand U",
        "least-probability" => "Mindestwahr\u{ad}scheinlichkeit",
        "coverage-probability" => "Überdeckung von U",
        "equipment" => "Messmittel",
        "kind" => "Art",
        "certificate" => "Kalibrierschein",
        "calibrated" => "Kalibriert",
        "due" => "Fällig",
        "calibration-table" => "Von Volt zu Pascal, Scan für Scan",
        "scan" => "Scan",
        "explained-source" => "Quelle:",
        "point-no-value" => "kein Wert",
        "point-replaced" => ", aus den Nachbarn ersetzt",
        "point-here" => "dieser Punkt",
        "point-focal" => "Fokuspunkt",
        "response" => "Empfindlichkeit",
        "method" => "Verfahren",
        "low-pass" => "Tiefpass",
        "low-pass-from" => "Gewählt nach",
        "padded" => "Aufgefüllt auf",
        "response-none" => "keine angegeben",
        "response-flat" => "ein Faktor",
        "response-check-source" => "ein Faktor, von einer Prüfquelle",
        "response-table" => "Empfindlichkeitstabelle, komplex",
        "method-broadband" => "Division bei jeder Frequenz",
        "method-narrowband" => "Division durch den Wert bei der Ansteuerfrequenz",
        "lowpass-one-pole" => "einpolige Glieder bei",
        "lowpass-cosine" => "Kosinusflanke ab",
        "lowpass-from-record" => "Protokoll",
        "lowpass-from-noise" => {
            "Rauschen: letztes Band einer Harmonischen, in dem das Signal darüber liegt"
        }
        "lowpass-from-default" => "Vorgabe, weil ein ruhiger Teil fehlt",
        "look-described" => "Beschreibt sich selbst; eine Anordnung ist nicht nötig:",
        "look-nothing" => "Keines seiner Felder kann Zeitverläufe enthalten.",
        "look-proposed" => "Vorgeschlagene Lesart",
        "look-lacking" => "fehlt",
        "look-no-number" => "keine Zahl",
        "look-used" => {
            "Es ist die einzige Lesart, die passt, und sie gilt, wenn das Protokoll keine angibt. Prüfen und die Anordnung im Protokoll festhalten."
        }
        "look-incomplete" => {
            "Die Anordnung vervollständigen und im Protokoll beim Scan eintragen; sonst wird die Datei nicht gelesen."
        }
        "look-choose" => {
            "Die richtige Anordnung im Protokoll beim Scan eintragen; sonst wird die Datei nicht gelesen."
        }
        "range" => "Messbereich",
        "ranges" => "Messbereiche",
        "range-in-text" => "Messbereich",
        "range-only" => "Sensor",
        "reference-sensor" => "kalibrierter Sensor",
        "setting" => "Einstellung",
        "shots" => "Aufnahmen",
        "source-pressure" => "Druck der Quelle",
        "voltage" => "Spannung",
        "factor" => "Faktor, mV/MPa",
        "u-relative" => "u (k = 1)",
        "by-fundamental" => "aus der Grund\u{ad}schwingung",
        "by-rms" => "aus dem Effektivwert",
        "by-peak" => "aus dem Spitzenwert",
        "by-feature" => "Aus",
        "feature-fundamental" => "Amplitude der Grundschwingung",
        "feature-rms" => "Effektivwert",
        "feature-peak" => "positiver Spitzenwert",
        "by-range" => "je Messbereich, siehe Kalibrierung",
        "wave-u-table" => {
            "Unsicherheit des Zeitverlaufs am Maximum, Quelle für Quelle: relative Standardunsicherheit (k = 1)"
        }
        "wave-u-reading" => {
            "Von jedem Scan der Zeitverlauf, der seinem Maximum am nächsten liegt; an anderen Punkten gilt dieselbe relative Unsicherheit. Empfindlichkeit: Betrag und Phase, wie Tabelle oder Faktor sie angeben. Tiefpass: die halbe Spanne dessen, was er nehmen kann, durch √3."
        }
        "frequency-correlation-common" => {
            "Die Fehler der Empfindlichkeit gelten als allen Frequenzen gemeinsam."
        }
        "frequency-correlation-independent" => {
            "Die Fehler der Empfindlichkeit gelten als von Zeile zu Zeile unabhängig."
        }
        "frequency-correlation-length" => {
            "Die Fehler der Empfindlichkeit gelten als über eine angegebene Frequenzbreite zusammenhängend."
        }
        "value-of-waveform" => "Dieses Zeitverlaufs",
        "u-noise" => "Rauschen",
        "u-magnitude" => "Betrag",
        "u-phase" => "Phase",
        "u-low-pass" => "Tiefpass",
        "u-drawn" => "Gezogen",
        "other-method" => "Anderes Verfahren",
        "stack-table" => "Ebenen in mehreren Tiefen und der Fokus, den sie einschließen (−6 dB)",
        "stack-z" => "z",
        "stack-pc" => "p_{c}",
        "stack-pr" => "p_{r}",
        "stack-width-x" => "Breite in x, −6 dB",
        "stack-width-y" => "Breite in y, −6 dB",
        "stack-whole" => "Zusammen",
        "stack-length" => "Länge",
        "stack-ellipsoid" => "Ellipsoid",
        "stack-shift" => "vom geometrischen Fokus",
        "stack-axis" => "Achse durch die Mittelpunkte",
        "stack-tilt-x" => "Neigung nach x",
        "stack-tilt-y" => "Neigung nach y",
        "stack-offset-x" => "x am Kopf",
        "stack-offset-y" => "y am Kopf",
        "stack-counted" => "gezählt",
        "ranges-table" => "Messbereiche des Sensors, wie angegeben",
        "linear-limit" => "Linear bis",
        "lowpass-from-range" => "Scans im selben Messbereich",
        "factors-table" => "Faktoren durch die Prüfquelle, einer je Messbereich",
        "sources-table" => "Quellen ihrer Unsicherheit, relative Standardunsicherheit des Faktors",
        "comparison-table" => {
            "Messbereiche im Vergleich: Druck der Prüfquelle nach dem ersten durch den nach dem zweiten, weniger eins"
        }
        "uncertainty-source" => "Quelle",
        "shared" => "Gemeinsam",
        "shared-all" => "allen Messbereichen",
        "shared-own" => "nein",
        "not-evaluated" => "nicht ausgewertet",
        "together" => "Zusammen",
        "source-reference-certificate" => "Kalibrierschein des kalibrierten Sensors",
        "source-reference-repeatability" => "Streuung seiner Ablesungen",
        "source-source-drift" => "Drift der Quelle dazwischen",
        "source-element-size" => "ungleiche Größe der Elemente",
        "source-transfer-repeatability" => "Streuung der Ablesungen dieses Sensors",
        "source-transfer-noise" => "Rauschen der Ablesungen dieses Sensors",
        "source-flatness" => "Frequenzgang",
        "source-linearity" => "Linearität über dem Pegel",
        "source-temperature" => "Temperatur",
        "source-level" => "Stufe",
        "difference" => "Abweichung",
        "u-difference" => "u davon (k = 1)",
        "noise-table" => "Rauschäquivalenter Druck und größter Druck je Messbereich",
        "nep" => "Rausch\u{ad}äquivalenter Druck, effektiv",
        "noise-band" => "Band",
        "nep-density" => "Dichte, Pa/√Hz",
        "limit" => "Größter Druck",
        "dynamic-range" => "Dynamik\u{ad}bereich",
        "noise-from" => "Woher",
        "noise-from-noise-record" => "Rauschaufzeichnung",
        "noise-from-pre-arrival" => "vor der Ankunft",
        "role-plane" => "Ebene quer zum Schallbündel",
        "role-line" => "Linie quer zum Schallbündel",
        "role-axial" => "Linie längs des Schallbündels",
        "role-point" => "einzelner Punkt",
        "role-record" => "Protokoll",
        "role-response" => "Empfindlichkeitstabelle",
        "role-stated" => "angegebene Werte",
        "role-unused" => "nicht verwendet",
        "role-sweep" => "Ansteuerstufen",
        "role-noise" => "Rauschen",
        "role-check-source" => "Prüfquelle",
        "role-monitor" => "Überwachung",
        "role-reference" => "Wiederkehrmessungen",
        "role-model" => "berechnetes Feld",
        "uncertainty-columns" => {
            "U ist die erweiterte Messunsicherheit für die Überdeckungswahrscheinlichkeit, die bei den Budgets steht. Werte ohne U sind mit vier Stellen gedruckt; das ist nicht ihre Genauigkeit."
        }
        "quantity" => "Messgröße",
        "stated-value" => "Angegeben",
        "measured" => "Gemessen",
        "verdict" => "Ergebnis",
        "not-measured" => "nicht gemessen",
        "not-measurable" => "Ohne Wert",
        "window-whole-pulse" => "ganzer Puls",
        "window-steady-state" => "einge\u{ad}schwungen",
        "base-on" => "während des Bursts",
        "base-tank" => "Anregung im Messbecken, kein Behandlungs\u{ad}wert",
        "base-exposure" => "angegebene Beschallung",
        "correction-noise-energy" => "mit Rauschen",
        "correction-spatial-averaging" => "gemittelt über den Sensor",
        "correction-drift" => "Drift nicht behoben",
        "correction-motion" => "Zeilen nicht verschoben",
        "correction-noise-bias" => "Einzel\u{ad}aufnahme, mit Rauschen",
        "no-findings" => "Nichts anzumerken.",
        "inputs" => "Eingabedateien",
        "file" => "Datei",
        "role" => "Rolle",
        "bytes" => "Bytes",
        "sha256" => "SHA-256",
        "hash-pending" => "folgt",
        "made-with" => "Erstellt mit",
        "nothing-sent" => {
            "Alles wurde auf dem Rechner gerechnet, an dem das Blatt entstand; es wurden keine Daten verschickt."
        }
        _ => return None,
    })
}

fn figures(key: &str) -> Option<&'static str> {
    Some(match key {
        "drive" => "Ansteuerung",
        "axis-pressure" => "Druck",
        "axis-voltage" => "Spannung",
        "axis-pii" => "I_{pi}",
        "axis-relative-energy" => "Energie re Maximum",
        "axis-level" => "Pegel",
        "axis-time" => "Zeit nach dem Trigger",
        "axis-frequency" => "Frequenz",
        "axis-sensitivity" => "Empfindlichkeit",
        "pulse-window" => "Pulsfenster",
        "steady-window" => "eingeschwungen",
        "curve-response" => "Empfindlichkeit, Band ± 2 u",
        "curve-signal" => "Signal, 80 dB auf die Höhe",
        "mark-cutoff" => "Tiefpass",
        "caption-glance" => {
            "Das Feld auf einen Blick: Pulsintensitätsintegral in der Ebene, seine Profile durch das Maximum und der Zeitverlauf am Gitterpunkt, der dem Maximum am nächsten liegt"
        }
        "caption-pc" => "Kompressionsspitzendruck",
        "caption-pr" => "Rarefaktionsspitzendruck",
        "caption-intensity" => "Pulsintensitätsintegral, Rauschenergie abgezogen",
        "axis-visit" => "Besuch",
        "axis-departure" => "Abweichung vom Mittel",
        "caption-revisits" => {
            "Wiederkehrmessungen an einem Punkt: Spitzendrücke, bezogen auf ihren Mittelwert"
        }
        "axis-width" => "Breite",
        "caption-depths-pressures" => "Spitzendrücke der Ebenen längs des Schallbündels",
        "caption-depths-widths" => {
            "−6-dB-Breiten der Ebenen längs des Schallbündels, vom Pulsdruckquadrat-Integral"
        }
        "axis-phase" => "Phase re Maximum",
        "axis-arrival" => "Ankunft re Maximum",
        "caption-harmonic" => "Amplitude der Harmonischen",
        "caption-phase" => {
            "Phase der Grundschwingung, bezogen auf die am Maximum, wo ihre Amplitude über −20 dB liegt; später ist niedriger"
        }
        "caption-arrival" => {
            "Ankunft (Halbwertspunkt des Anstiegs), bezogen auf die am Maximum, wo die Grundschwingung über −20 dB liegt"
        }
        "caption-profile-x" => {
            "Profil längs x durch das Maximum, Pulsdruckquadrat-Integral, bezogen auf sein Maximum; Pfeil: −6-dB-Breite"
        }
        "caption-profile-y" => {
            "Profil längs y durch das Maximum, Pulsdruckquadrat-Integral, bezogen auf sein Maximum; Pfeil: −6-dB-Breite"
        }
        "caption-pressures-x" => {
            "Profile von p_{c} und p_{r} längs x, jedes durch sein eigenes Maximum; Punkte: −6 dB davon (Faktor 0,501)"
        }
        "caption-pressures-y" => {
            "Profile von p_{c} und p_{r} längs y, jedes durch sein eigenes Maximum; Punkte: −6 dB davon (Faktor 0,501)"
        }
        "caption-axial" => "Spitzendrücke längs des Schallbündels",
        "caption-axial-level" => {
            "Pulsdruckquadrat-Integral längs des Schallbündels, bezogen auf sein Maximum; Pfeil: −6-dB-Fokustiefe"
        }
        "caption-line" => "Spitzendrücke längs der Linie",
        "caption-line-level" => {
            "Pulsdruckquadrat-Integral längs der Linie, bezogen auf sein Maximum; Pfeil: −6-dB-Breite"
        }
        "caption-waveform" => {
            "Zeitverlauf am Gitterpunkt, der dem Maximum am nächsten liegt, nach der Entfaltung"
        }
        "caption-spectrum" => {
            "Amplitudenspektrum dieses Zeitverlaufs, bezogen auf sein Maximum, Harmonische nummeriert"
        }
        "axis-limit" => "größter Druck",
        "axis-nep" => "rauschäquivalenter Druck, effektiv",
        "caption-check-source" => {
            "Prüfquelle: Spannung in jedem Messbereich über ihrem Druck nach dem kalibrierten Sensor (Punkte); gestrichelt der Faktor des Messbereichs, von seinem Rauschen bis zu seinem größten Druck"
        }
        "caption-noise-by-range" => {
            "Rauschäquivalenter Druck über dem größten Druck, den jeder Messbereich fasst; tief und weit rechts ist besser"
        }
        "caption-response" => {
            "Empfindlichkeit mit ihrem Unsicherheitsband; darüber, in Grau, das Spektrum des Signals (entfaltete Spannung), auf einer Skala von 80 dB"
        }
        _ => return None,
    })
}

fn notes(key: &str) -> Option<&'static str> {
    Some(match key {
        "method-note-1" => {
            "Reihenfolge: Prüfung auf Übersteuerung an den rohen Zählwerten; Zählwerte in Volt; Nulllinie (Mittel vor der Ankunft, ohne Übersprechen der Ansteuerung); Fensterflanken; Auffüllen mit Nullen; Division durch die Empfindlichkeit, mal Tiefpass, über die volle Länge; Kürzen; Fenster; Größen jedes Punkts; Rauschenergie; räumliches Maximum."
        }
        "method-note-2" => {
            "Fenster des ganzen Pulses: von zwei Perioden vor der frühesten Ankunft im Scan bis zwei Perioden nach dem spätesten Ende; gefunden, wo der Effektivwert über eine Periode 2 % des lautesten und das Vierfache des leisesten übersteigt."
        }
        "method-note-3" => {
            "Eingeschwungener Zustand (Bursts ab acht Schwingungen): ganze Schwingungen von der ersten bis zur letzten, deren Effektivwert 97 % des Plateaus erreicht, vor dem angegebenen Ende des Bursts und bevor Schall vom Kopf zurückgekehrt sein kann."
        }
        "method-note-4" => {
            "Räumliches Maximum: quadratischer Ausgleich des Logarithmus nach kleinsten Quadraten über die zusammenhängenden Punkte über −1,5 dB (mindestens neun; bei weniger der größte Punkt und seine Nachbarn über −6 dB; auf einer Linie mit sieben und mehr Punkten vierten Grades). p_{c}, p_{r} und Energie jeweils auf ihrer eigenen Karte."
        }
        "method-note-5" => {
            "Breiten und Flächen sind Pegel des Pulsdruckquadrat-Integrals, 10 log_{10}: −6 dB sind ein Verhältnis von 0,2512, nicht die Hälfte."
        }
        "method-note-6" => {
            "Rauschenergie: das mittlere Quadrat vor der Ankunft (Median über den Scan) mal der Länge des Fensters wird abgezogen; unkorrigierte Werte stehen daneben."
        }
        "method-note-7" => {
            "Wasser: Schallgeschwindigkeit nach Marczak (1997), Dichte nach Tanaka et al. (2001), aus der angegebenen Temperatur. Intensitäten nach der Beziehung für ebene Wellen, p²/(ρc)."
        }
        "method-note-8" => {
            "Wo neben einem Spitzendruck ein unkorrigierter Wert steht, wurde abgezogen, um wie viel das Rauschen eine Einzelaufnahme anhebt: bestimmt, indem dem Zeitverlauf gleich starkes Rauschen noch einmal hinzugefügt wird. In Ebenen wird die Mittelung über die Sensorfläche zurückgenommen, nach dem, was eine Scheibe des angegebenen Radius aus dem gemessenen Feld macht, wo das mehr als 0,01 % ist; die Unsicherheit dieser Korrektur ist ein Drittel von ihr. Drift zwischen Wiederkehrmessungen und der Versatz von Zeilen, die im Vorbeifahren aufgenommen wurden, werden nur korrigiert, wo das Protokoll es verlangt; Karten und Profile des Drucks zeigen dann den Zustand zum Zeitpunkt des Maximums."
        }
        _ => return None,
    })
}

/// A blank of the record in words.
pub fn blank(path: &str) -> Option<&'static str> {
    Some(match path {
        "sensor.response" => "Empfindlichkeit des Sensors",
        "sensor.response.uncertainty" => "Unsicherheit der Empfindlichkeit des Sensors",
        "sensor.u_gain" => "Unsicherheit der Verstärkung",
        "frame.u_scale" => "Unsicherheit des Maßstabs der Achsen",
        "frame.u_position" => "Unsicherheit der Positionen",
        "excitation.u_drive" => "Stabilität der Ansteuerung",
        "excitation.u_repetition" => "Unsicherheit der Wiederholrate",
        "water.u_temperature_c" => "Unsicherheit der Wassertemperatur",
        "excitation.repetition_hz" => "Wiederholrate",
        "sensor.full_scale_v" => {
            "Vollausschlag des Digitalisierers oder Linearitätsgrenze des Sensors"
        }
        "frame.z_zero" => "Punkt des Kopfs, an dem z beginnt",
        "device.radius_of_curvature_m" => "Krümmungsradius des Kopfs",
        "device.aperture_radius_m" => "Radius der Apertur",
        "device.source_area_m2" => "Fläche der Quelle des Kopfs",
        "excitation.level_kind" => "Art der Ansteuerstufe: Amplitude oder Leistung",
        "scans.level" => "Ansteuerstufe der Messung",
        "scans.range" => "Messbereich der Messung",
        "scans.distance_m" => "Abstand der Ebene vom Kopf",
        "excitation.cycles" => "Zahl der Schwingungen je Burst",
        "excitation.frequency_hz" => "Ansteuerfrequenz",
        "exposure" => "Beschallung bei der Behandlung",
        "exposure.burst_s" => "Burstlänge der Beschallung bei der Behandlung",
        "exposure.repetition_hz" => "Wiederholrate der Beschallung bei der Behandlung",
        _ => return None,
    })
}
