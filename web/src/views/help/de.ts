/** Die Hilfe auf Deutsch. */
import type { Book } from "../../kernels/help";

const RUNS = "Eigene Läufe eines Modells starrer Körper, 2026. An echten Steinen wurde noch nichts davon gemessen.";
const PRACTICE = "Übliche Praxis, ohne Quelle.";

export const book: Book = {
  pages: {
    first: {
      lead: "Von der leeren Halle zu einem Plan, der sagt, was er braucht. Nichts kann den Plan beschädigen: Jeder Schritt lässt sich zurücknehmen.",
      parts: [
        { steps: [
          "Legen Sie auf der Seite Bild oder auf dem Boden von Plan ein Bild ab, oder öffnen Sie erst das Beispiel und sehen Sie sich darin um. Aus einem Bild wird ein Feld: Bahnen und Reihen aus Steinen.",
          "Bringen Sie Ihren Bestand mit: Legen Sie auf der Seite Bestand eine Liste mit name, code, hex und count ab. Drei Zeilen genügen für den Anfang.",
          "Drücken Sie auf der Seite Bild auf Abgleichen. Das Programm sagt, was der Bestand aus dem Bild machen kann und wie gut es gesehen wird.",
          "Lesen Sie die Befunde am Fuß (F6). Jeder nennt einen Ort und was dort zu tun ist.",
          "Sehen Sie sich den Fall an; dann drucken Sie die Bahnblätter oder lassen Tablets herein.",
        ] },
        { h: "Was immer da ist" },
        { list: [
          "Die Zeile oben führt zu den Ansichten, in der Folge der Arbeit, und sagt, ob die Arbeit gesichert ist.",
          "Die Zeile am Fuß sagt, was der Plan kostet und welche Farben knapp sind.",
          "„Finden oder tun“ (die Taste /) findet jede Handlung, jedes Teil, jeden Ort und jede Seite der Hilfe.",
          "Rückgängig nimmt beliebig viele Schritte zurück, auch nach einem Neustart. Der Verlauf zeigt sie alle.",
        ] },
        { h: "Sichern" },
        { p: "Eine Taste zum Sichern gibt es nicht: Eine Änderung zählt erst, wenn sie auf der Platte ist. „Kopie sichern“ gibt Ihnen das ganze Projekt als eine Datei, mit Verlauf und Bildern. Verwahren Sie eine Kopie auf einer anderen Platte." },
      ],
    },
    hall: {
      lead: "Die Halle ist der Boden, auf dem alles steht: Wände, Pfeiler, Türen, Ausgänge, Gänge, Tische und was darüber hängt.",
      parts: [
        { p: "Messen Sie zweimal, von zwei Ecken aus, und nehmen Sie auch die Diagonalen. Das Programm passt die Marken an die Maße an und nennt das Maß, das nicht passt." },
        { list: [
          "Ausgänge und Fluchtwege bleiben frei, solange jemand in der Halle ist. Zeichnen Sie sie als Gänge; die Prüfung nennt, was darin steht.",
          "Legen Sie Gänge, wo Bauende hinreichen müssen: Niemand reicht weiter als ein Arm.",
          "Nehmen Sie auf dem Boden der Halle die Zeit einer eigenen Linie: etwa 200 Steine, gefilmt. Damit sind die Zeiten des Falls keine Spanne mehr.",
        ] },
        { p: "Zeichnen Sie sie auf der Seite Plan mit dem Werkzeug Halle (H): Ecke für Ecke oder als Kasten, mit getippten Zahlen. Ein Klick auf ein Teil oder die Wände wählt es; ziehen Sie an seinen Ecken, tippen Sie seine Größe, oder drücken Sie Entf. Marken und Maßbänder stehen noch im Textplan (standfast export --to toml)." },
        { figures: ["grip", "reach", "clearance"] },
        { caution: "Das Programm kennt den Plan, den es bekommt, und nichts vom Gebäude. Örtliche Vorschriften und der Betreiber der Halle gehen vor." },
      ],
    },
    draw: {
      lead: "Alles, was in der Halle steht, wird auf der Seite Plan gezeichnet. Das Programm prüft jeden Strich, während er entsteht, und jeder Schritt lässt sich zurücknehmen.",
      parts: [
        { p: "Der Kamm links hält die Werkzeuge nach ihrem Zweck. Ein Buchstabe nimmt ein Werkzeug, während der Boden den Fokus hat; Esc führt zum Auswählen zurück. Der Zettel am Fuß sagt, was als Nächstes zu tun ist und woraus das nächste Teil besteht; beim Zeiger steht, was es braucht." },
        { h: "Auswählen" },
        { list: [
          "Auswählen (V): Teile mit einem Klick, einem Kasten oder einem Lasso wählen, bewegen, drehen und umformen.",
        ] },
        { h: "Die Halle" },
        { list: [
          "Halle (H): Wände, Pfeiler, Türen, Ausgänge, Gänge, Tische und Punkte an der Decke, Ecke für Ecke oder als Kasten.",
          "Fläche (U): ein Brett, ein Tisch oder eine Mauerkrone, worauf Teile stehen.",
        ] },
        { h: "Linien" },
        { list: [
          "Linie (L): durch die Punkte, die Sie klicken; Ziehen biegt sie, Eingabe oder ein Doppelklick beendet sie, der erste Punkt schließt sie.",
          "Bogen (R): aus Anfang, Ende und Wölbung.",
          "Spirale (S): Ring um Ring, nach innen oder außen.",
          "Freihand (W): eine glatte Linie entlang dem, was Sie zeichnen.",
          "Fläche füllen (A): eine Linie, die einen Umriss in Wellen, als Spirale oder in Locken füllt; tippen Sie den Abstand der Ringe oder eine Zahl von Steinen.",
          "Buchstaben (X): Worte als Linien, oder stehend in einem Feld.",
        ] },
        { h: "Felder" },
        { list: [
          "Feld (F): Bahnen und Reihen für ein Bild. Legen Sie ein Bild darauf ab, oder wählen Sie das Feld und fügen Sie eines ein; anderswo auf dem Boden abgelegt, beginnt ein Bild ein neues Feld.",
          "Platzhalter (B): Platz für etwas, das anders gebaut wird.",
          "Zuführung (D): die Arten, die Welle in jede Bahn zu bringen, die beste zuerst.",
        ] },
        { h: "Der Fall" },
        { list: [
          "Start (P): wo jemand den ersten Stein anstößt.",
          "Stopper (O): ein Klotz, an dem eine fallende Bahn endet; ein Klick auf eine Linie stellt ihn quer zu ihr.",
          "Lücke (G): Steine, die erst am Ende gesetzt werden. Klicken Sie einen Stein an und ziehen Sie die Linie entlang; ein Klick auf eine Lücke nimmt sie weg.",
        ] },
        { h: "Marken" },
        { list: [
          "Maß (M): ein Abstand, der auf dem Boden steht.",
          "Notiz (N): Worte an einem Ort.",
          "Kamera (C): wo eine Kamera steht und wohin sie sieht.",
        ] },
        { h: "Getippte Zahlen" },
        { p: "Tippen Sie beim Zeichnen eine Zahl, und sie tritt an die Stelle dessen, was der Zeiger sagt. Tab geht zur nächsten Zahl, Eingabe nimmt sie, Esc lässt sie fallen. Einheiten sind frei: 2,4 m, 8ft 2in, oder 15 für Millimeter." },
        { h: "Einrasten" },
        { p: "Orte rasten ein an Anschlüssen, Enden, Ecken, Mitten, Kanten, Fluchten, Schritten von 15°, gleichen Abständen und dem Raster. Eine Linie, die an einem Anschluss beginnt oder endet, ist mit ihm verbunden. Mit gehaltener Strg-Taste rastet nichts ein, Umschalt hält einen Strich in Schritten von 15°." },
        { h: "Mit Tasten allein" },
        { p: "Pfeile bewegen den Boden unter dem Kreuz in seiner Mitte. Eingabe drückt dort, Umschalt und Eingabe beenden eine Linie, die Rücktaste nimmt den letzten Punkt zurück. Punkt und Komma gehen von Teil zu Teil; Pfeile bewegen dann, was gewählt ist, um 1 mm, mit Umschalt um 10 mm." },
        { h: "Umformen" },
        { p: "Wählen Sie ein Teil, und seine Punkte zeigen sich. Ziehen Sie einen Punkt, oder ziehen Sie aus einer Mitte einen neuen. [ und ] gehen von Punkt zu Punkt, Pfeile bewegen den Punkt, Entf nimmt ihn weg; Eingabe behält die neue Form, Esc verwirft sie." },
      ],
    },
    items: {
      lead: "Was gewählt ist, zeigt seine Zahlen rechts; die Liste zeigt jedes Teil, auch solche, die schwer zu treffen sind.",
      parts: [
        { h: "Der Inspektor" },
        { p: "Die Taste I öffnet und schließt ihn. Er sagt, was das Teil ist, was es braucht und wann es fällt, und jede Zahl lässt sich tippen. Von mehreren Teilen zeigt er, was sie gemeinsam haben, „25 und 27 mm“, wo sie verschieden sind, und eine getippte Zahl gilt für alle, in einem Schritt. Ist nichts gewählt, zeigt er die Halle." },
        { list: [
          "Kopieren mit Strg und D, nach links drehen mit Umschalt und R, spiegeln mit Umschalt und M, wegnehmen mit Entf.",
          "Ausrichten und gleiche Abstände bei mehreren Teilen.",
          "Gruppieren mit Strg und G: Ein Klick wählt dann die ganze Gruppe.",
          "Sperren mit Strg und L: Ein gesperrtes Teil nimmt keine Änderung an, bis es entsperrt ist.",
        ] },
        { h: "Die Liste der Teile" },
        { p: "Umschalt und O öffnet sie. Pfeile gehen durch sie, Eingabe wählt, die Leertaste nimmt dazu, F2 gibt einen neuen Namen. Jede Zeile verbirgt oder sperrt ihr Teil und zeigt das Schlimmste, was dort gefunden wurde." },
        { h: "Abschnitte" },
        { p: "Abschnitte sind Teile des Bodens, die jemand leitet. Legen Sie sie unter der Liste an, geben Sie Namen, sagen Sie, wer leitet, und legen Sie Gewähltes hinein." },
        { h: "Mehr zu sehen" },
        { list: [
          "Aus der Nähe (E) zeigt die Steine unter dem Zeiger groß genug zum Lesen, mit einer Karte der ganzen Halle.",
          "Lineale, in der Liste der Befehle, stehen an den Rändern.",
          "Umschalt und F10, oder die rechte Maustaste, öffnet das Menü zu dem, was gewählt ist.",
          "Z zeigt, was gewählt ist, Pos1 zeigt alles, 0 lässt den Boden allein.",
        ] },
      ],
    },
    lines: {
      lead: "Eine Linie sind Steine hintereinander auf einem Weg: gerade, Bögen, Spiralen, Kurven durch Punkte und Brücken.",
      parts: [
        { p: "Zeichnen Sie Linien auf der Seite Plan mit Linie, Bogen, Spirale, Freihand, Fläche füllen und Buchstaben, Punkt für Punkt oder mit getippten Zahlen; Zeichnen sagt, wie. Wo eine Linie an einem Anschluss beginnt oder endet, führt sie von dort weiter." },
        { p: "Eine Linie nimmt ihren Abstand entweder von Stein zu Stein (die Teilung) oder von Fläche zu Fläche (die Lücke). Sagen Sie, ob ein Kamm setzt oder die Hand: Die Hand streut mehr, also braucht sie mehr Platz." },
        { figures: ["band", "turn", "step", "clearance"] },
        { h: "Verbindungen" },
        { p: "Eine Linie kann am Ende eines anderen Teils beginnen und in das nächste führen. Dann folgt sie, wenn diese bewegt werden, und das letzte Stück wird vom Ende des Weges glatt gelegt." },
        { h: "Teilen und Zusammenführen" },
        { p: "Eine Linie, die neben einer anderen beginnt, wird gespeist, wo ihr erster Stein getroffen wird. Zwei Zweige, die sich treffen, werden dadurch nicht schneller." },
        { h: "Brücken" },
        { p: "Wählen Sie eine Linie und fügen Sie unter ihren Zahlen eine Brücke hinzu: wo sie beginnt, wie lang und wie hoch ihre Platte ist und wie ihre Stufen steigen." },
      ],
    },
    fields: {
      lead: "Ein Feld ist ein Bild in Bahnen und Reihen. Der Fall läuft die Bahnen entlang; die Zuführung bringt ihn zu jeder Bahn.",
      parts: [
        { h: "Das Raster" },
        { figures: ["pitch", "across", "stagger"] },
        { h: "Das Bild" },
        { p: "„Genau“ macht die Summe der Unterschiede Zelle für Zelle so klein, wie der Bestand es zulässt, und beweist das. „Wie gesehen“ macht richtig, was das Auge aus der Ferne mischt. Die vier Bänder zeigen Vorlage, gelegt, stehend und gefallen; ziehen Sie an den Teilern." },
        { figures: ["goal", "difference", "distance", "eye", "fewer", "weight", "contrast"] },
        { h: "Zellen von Hand" },
        { p: "„Zellen setzen“ auf der Seite Bild bringt die Werkzeuge: Pinsel (B), Linie (L), Rechteck (R), Füllen (G), Ersetzen (C), Stempel (S) und Farbe nehmen (P); Kasten wählen (X), Lasso wählen (O) und Gleiche wählen (U) wählen Zellen, und dann nehmen nur diese Farbe an. W und N machen den Pinsel breiter und schmaler, Y ändert die Symmetrie." },
        { p: "Mit Tasten bewegen Pfeile den Zeiger, mit Umschalt um zehn; Eingabe wendet das Werkzeug an, die Leertaste zieht. Zellen bleiben beim nächsten Abgleich, wie Sie sie gesetzt haben, bis Sie sie freigeben (E); A gleicht nur die gewählten neu ab." },
        { h: "Zuführungen" },
        { p: "Eine Zuführung ist die Reihe von Steinen, die den Fall zu jeder Bahn bringt. Es gibt sechs Arten. Das Werkzeug Zuführung (D) nennt sie zu dem Feld, das Sie anklicken, die beste zuerst, mit Sicherheit und Tempo; Fertig legt die, die Sie wählen." },
        { figures: ["feeds"] },
      ],
    },
    stock: {
      lead: "Der Bestand ist, was Sie besitzen, nach Farbe, Art, Charge und Besitzer. Geplant wird mit dem Nutzbaren: dem Besitz ohne das, was zurückbleibt.",
      parts: [
        { p: "Eine Bestandsliste ist eine CSV-Datei mit name, code, hex und count und, wo gewünscht, kind, back_hex, edge_hex, finish, batch, owner, offered, crate_size, mass_g, thickness_mm und spare. Eine Zeile, die nicht geht, wird mit dem nächsten Schritt genannt, und nichts wird geändert." },
        { list: [
          "Auswege aus einem Mangel kommen mit der kleinsten sichtbaren Änderung zuerst: eine andere Farbe, leihen, kaufen, kleinere Felder.",
          "Chargen unterscheiden sich in Dicke und Ton. Halten Sie eine Charge an einem Ort, wo es geht.",
          "Kürzel haben ein bis drei Zeichen. I, O, Q und Z bleiben weg, da sie für Ziffern gehalten werden.",
        ] },
        { figures: ["piece", "spare", "crates", "mass", "alike"] },
        { caution: "Eine Kiste mit 500 Steinen wiegt über 4 kg. Wiegen, Last teilen, Wagen benutzen." },
      ],
    },
    fall: {
      lead: "Der Fall wird Stein für Stein gerechnet, mit einem langsamen, einem schnellen und einem üblichen Lauf. Zeiten sind Spannen, und was nicht sicher ist, wird gesagt.",
      parts: [
        { p: "Was stehen bleibt, wird mit dem Grund genannt: zu weit weg, zu weit gedreht, verstellt, nicht gespeist. Wählen Sie einen Stein, um zu sehen, wovon er getroffen wird, wann, und wohin er fällt." },
        { h: "Ansehen" },
        { list: [
          "Die Leertaste spielt ab und hält an. Komma und Punkt gehen um ein Bild, N um einen Stein, [ und ] um ein Ereignis, J zum ersten Halt; < und > ändern das Tempo von 1/100 bis 100.",
          "Rundum (O) fährt um die Halle, Gehen (W) geht in Augenhöhe hindurch, Folgen (L) behält die Welle im Blick.",
          "C geht von einem Kameraplatz zum nächsten, K behält den Blick als neuen. F zeigt alles, A sieht von oben, V geht zur Welle.",
          "P speichert ein Bild dieses Augenblicks, M macht einen Film, von einem Kameraplatz oder wie es jetzt zu sehen ist.",
        ] },
        { figures: ["grip", "speed", "chance"] },
        { h: "Was das Modell nicht weiß" },
        { list: [
          "Verzogene und klebrige Steine, Zugluft, Gefälle und was aus Kurven herausrutscht.",
          "Steine jenseits der gerechneten Größen: Alle Längen werden mit der Höhe des Steins skaliert.",
          "Von 5 918 gemessenen Übergaben werden 24,7 % mit „unsicher“ beantwortet, und von 2 weiß man, dass die Antwort falsch ist; die Regeln wurden an eben diesen Läufen angepasst.",
        ] },
        { caution: "Halten Sie Menschen während des Falls vom Boden und aus den Gängen neben hohen Teilen fern. Was über Köpfen hängt, ist Sache einer Fachkraft mit Zulassung." },
      ],
    },
    touch: {
      lead: "Die Berührungskarte zeigt, was fällt, wenn jemand jetzt einen Stein berührt: die Zahl, in Klassen, und die schlimmsten Stellen.",
      parts: [
        { p: "Sicherheitslücken sind Steine, die beim Bauen weggelassen werden, damit ein Unfall dort endet. Sie werden zuletzt geschlossen, eine nach der anderen, von den ruhigsten Händen. Das Werkzeug Lücke (G) öffnet und schließt sie auf dem Boden; das Werkzeug Stopper (O) setzt einen Klotz." },
        { figures: ["hold", "counts", "accidents"] },
        { list: [
          "Eine Lücke, die in jedem gemessenen Lauf hielt, heißt sicher; eine, die in manchen hielt, heißt unsicher, und dann ist ein am Boden befestigter Klotz mehr wert.",
          "Ein loser Klotz, der steht, ist schlimmer als nichts: Er wird weitergestoßen wie ein Stein.",
          "Prüfen Sie eine Lücke auf Ihrem eigenen Boden, bevor Sie hundert vertrauen.",
        ] },
      ],
    },
    sheets: {
      lead: "Nach Bahnblättern baut eine Mannschaft, die das Programm nie gesehen hat: Deckblatt, Legende und die Bahnen als Läufe mit Prüfsumme.",
      parts: [
        { p: "Jede Bahn liest sich wie „C 22  K 6  C 3 = 31“. Die Summe muss am Ende der Bahn stehen; wenn nicht, ab der letzten Zehn nachzählen." },
        { list: [
          "Wählen Sie an der Vorschau, von welcher Seite die Bauenden lesen und ob die Blätter gespiegelt sind.",
          "Streifen sind so tief, wie jemand reicht; ferne Bahnen kommen vor nahen.",
          "Drucken Sie mit 100 % und messen Sie den Balken von 200 mm, bevor Sie einer anderen Länge auf dem Papier trauen.",
          "Ohne Farbe tragen die Blätter Muster und Kürzel, so dass jeder Drucker genügt.",
        ] },
        { figures: ["reach"] },
        { caution: "Stunden auf den Knien brauchen Polster, Wechsel der Arbeit und Pausen. Planen Sie sie als Teil der Arbeit." },
      ],
    },
    tablets: {
      lead: "Tablets in der Halle lesen Bahnen vor, einen Lauf nach dem anderen, in Zahlen, die man aus zwei Metern sieht.",
      parts: [
        { steps: [
          "Starten Sie das Programm mit standfast open --lan, in einem Netz, dessen Gäste Sie kennen.",
          "Drücken Sie auf Tablets. Richten Sie eine Kamera auf den Code, oder tippen Sie die Adresse.",
          "Tippen Sie den Code der Mannschaft. Wer ihn hat, liest; nur Planende ändern.",
          "Wählen Sie ein Feld und eine Bahn. Weiter und Zurück sind groß; ein Pedal oder ein Presenter geht auch.",
        ] },
        { p: "Bahnen werden vorausgeholt: Eine verlorene Verbindung hält niemanden auf. Ändert jemand eine Bahn, die gerade gelesen wird, sagt es das Tablet." },
        { p: "Stellen Sie die Tablets in deren Einstellungen so ein, dass sie wach bleiben; Seiten über einfaches http können nicht darum bitten." },
      ],
    },
    together: {
      lead: "Mehrere können an einem Plan arbeiten, und eine verlorene Verbindung verliert nichts.",
      parts: [
        { h: "Zwei Fenster" },
        { p: "Öffnen Sie den Plan in einem zweiten Fenster oder auf einem zweiten Rechner: Jeder sieht sofort, was der andere ändert. Es gibt einen Verlauf für alle, also nimmt Rückgängig den letzten Schritt zurück, wer auch immer ihn getan hat. Der Verlauf sagt, wer jeden Schritt getan hat und wann." },
        { h: "Eine verlorene Verbindung" },
        { list: [
          "Aus „Gesichert“ wird „Hier aufgehoben“ mit der Zahl der Änderungen, und das Zeichnen geht weiter.",
          "Änderungen bleiben in diesem Browser, auch wenn die Seite neu geladen wird, und gehen in ihrer Folge hinaus, sobald der Rechner des Planers antwortet. Jede zählt einmal.",
          "Prüfungen, Zahlen und der Fall warten so lange: Sie werden auf dem Rechner des Planers gerechnet.",
          "Was dann nicht mehr geht, wird mit dem Grund gesagt.",
        ] },
      ],
    },
    keys: {
      lead: "Alles geht mit Tasten allein. Die Liste kommt aus dem Programm selbst, also ist sie nie veraltet.",
      parts: [
        { p: "Tasten ohne Strg wirken, während der Boden den Fokus hat oder nichts ihn hat, das Text nimmt. Man kann sie auf den Boden beschränken: Das ist eine Wahl auf der Tastenübersicht." },
        { sheet: true },
      ],
    },
    figures: {
      lead: "Jede Zahl, die das Programm nimmt, wenn Sie nichts sagen: was sie bedeutet und woher sie kommt. Die meisten lassen sich ändern, wo sie gezeigt werden.",
      parts: [
        { h: "Steine und Abstände" }, { figures: ["piece", "pitch", "across", "stagger", "band", "turn", "step", "clearance", "feeds"] },
        { h: "Der Fall" }, { figures: ["grip", "speed", "chance"] },
        { h: "Berührung und Lücken" }, { figures: ["hold", "counts", "accidents"] },
        { h: "Arbeit und Bestand" }, { figures: ["hours", "mass", "crates", "spare", "alike", "reach"] },
        { h: "Bilder" }, { figures: ["goal", "difference", "distance", "eye", "fewer", "weight", "contrast"] },
      ],
    },
    safety: {
      lead: "Was das Programm nicht sieht und wo andere entscheiden. Örtliche Vorschriften, der Betreiber der Halle und zugelassene Fachleute gehen immer vor.",
      parts: [
        { caution: "Leitungen und Lasten über Köpfen: Nichts wird gehängt, gefahren oder gehoben, weil ein Plan es zeigt. Seile und Lasten über Menschen gehören in die Hände zugelassener Fachleute." },
        { caution: "Gänge und Ausgänge: Türen, Fluchtwege und Löschgerät bleiben frei, solange jemand in der Halle ist, auch in der Nacht vor dem Fall." },
        { caution: "Heben: Eine Kiste mit 500 Steinen wiegt über 4 kg, eine Palette weit mehr. Wiegen, teilen, Wagen benutzen." },
        { caution: "Bretter sägen: mit geschütztem Werkzeug, Augenschutz und jemandem, der es gelernt hat." },
        { caution: "Lange Stunden auf den Knien: Polster, Wechsel der Arbeit und Pausen gehören in den Ablauf." },
        { caution: "Tablets: --lan nur in einem Netz, dessen Gäste Sie kennen. Ohne das spricht das Programm nur mit diesem Rechner." },
      ],
    },
  },
  figures: {
    piece: { what: "Größe und Masse eines Steins: Höhe, Breite, Dicke.", usual: "48 × 24 × 7,5 mm, 8,5 g", source: "Berichtete Maße. Messen Sie Ihre, und wiegen Sie hundert davon." },
    pitch: { what: "Von der Mitte eines Steins zur Mitte des nächsten in Fallrichtung. Ohne die Dicke bleibt die Lücke.", usual: "15 mm, zwischen üblichen Steinen bleiben 7,5 mm frei", source: `${PRACTICE} Übliche Kämme lassen so viel; Linien von 6 000 Steinen mit 5 bis 9 mm Lücke liefen in eigenen Läufen eines Modells starrer Körper ohne Halt.` },
    across: { what: "Von der Mitte einer Bahn zur Mitte der nächsten.", usual: "25 mm in Feldern, 26 mm in Linien; ab 26 mm stehen übliche Bahnen 2 mm auseinander", source: `25 bis 27 mm sind übliche Praxis. Bahnen mit 2 bis 4 mm dazwischen rissen in 360 Läufen nie eine andere mit; bei 1 mm und weniger bis zu 9 von 10. ${RUNS}` },
    stagger: { what: "Um wie viel jede zweite Bahn in Fallrichtung versetzt ist.", usual: "0 mm, kein Versatz", source: "Eine Wahl der Form; nichts wird angenommen." },
    band: { what: "Die Lücken, von Fläche zu Fläche, bei denen Linien bekanntlich laufen.", usual: "5 bis 36 mm mit Kamm, 7,5 bis 36 mm von Hand, für übliche Steine", source: `Mit Kamm 0 Halte in je 6 000 Steinen bei 5 bis 9 mm; von Hand 0 Halte in 48 000 bei 7,5 mm. Über 40 mm rutschen die Füße auf glatten Böden zurück. ${RUNS}` },
    turn: { what: "Wie weit ein Stein gegen den vor ihm gedreht sein darf.", usual: "30° liefen immer; ab 45° hielten manche an, bei 90° alle", source: RUNS },
    step: { what: "Wie hoch eine Stufe einer Brücke sein darf.", usual: "7,5 mm; 15 mm mit zwei oder mehr Steinen auf jeder Stufe", source: `27 von 27 Läufen stiegen 7,5 mm, 18 von 18 stiegen 15 mm mit zwei Steinen je Stufe; Stufen von 22,5 mm hielten 44 von 54 an. ${RUNS}` },
    clearance: { what: "Platz über Steinen, die unter Brettern, Tischen und Brücken stehen.", usual: "55 mm für übliche Steine", source: "Ein kippender Stein von 48 mm überstreicht 48,6 mm, seine Diagonale. Der Rest, für durchhängende Bretter und hüpfende Steine, ist übliche Praxis ohne Quelle." },
    feeds: { what: "Wie sicher und wie langsam jede Art der Zuführung zu einem Feld ist.", usual: "16 Läufe von 5 Bahnen für jeden Fall", source: RUNS },
    grip: { what: "Reibung von Stein auf Boden und von Stein auf Stein. Der Boden entscheidet, wie weit Gefallenes rutscht, der Stein, wie schnell die Welle läuft.", usual: "Boden 0,15 bis 0,3, Stein 0,06 bis 0,2", source: "Von glatten bis zu normalen Böden; Steine wie in gefilmten Linien, die bei 7,5 mm Lücke mit 0,95 bis 1,25 m/s liefen." },
    speed: { what: "Wie lange die Welle von Stein zu Stein braucht.", usual: "eine Spanne, bis eine eigene Linie gestoppt wurde", source: "Ein Modell kippender Steine, verglichen mit Läufen starrer Körper, nicht mit Film." },
    chance: { what: "Wie wahrscheinlich ein Stein den Fall aus Gründen anhält, die kein Modell hat: verzogen, klebrig, schlecht gesetzt.", usual: "1 zu 100 000 für jeden Stein, mehr bei engen und weiten Lücken", source: "Die Rate ist übliche Praxis ohne Quelle; was je Lücke dazukommt, stammt aus eigenen Läufen eines Modells starrer Körper." },
    hold: { what: "Ob eine Öffnung den Fall anhält.", usual: "es zählt der schlechteste Boden der Spanne", source: "10 bis 40 Läufe mit zwei Programmen für starre Körper zu jeder Öffnung, auf Böden von 0,15 bis 0,3. An echten Steinen wurde nichts gemessen: Auf dem eigenen Boden ist ein Versuch mehr wert." },
    counts: { what: "Wie viele Steine nach einer Berührung fallen.", usual: "genau in Plänen üblicher Größe; in großen auf etwa 13 %, die schlimmsten Stellen genau", source: "Die Grenze der Schätzung selbst (ein Standardfehler)." },
    accidents: { what: "Mit wie vielen Unfällen gerechnet wird, wenn Lücken vorgeschlagen werden.", usual: "einer auf 10 000 Steine, mindestens einer", source: "Mannschaften erzählen von einem auf 3 000 bis 20 000 gesetzte Steine: Arbeitszahlen, ohne Quelle." },
    hours: { what: "Reine Stunden der Hände an den Steinen, ohne Pausen, Sortieren und Ausbessern.", usual: "800 bis 1 200 Steine je Stunde und Person und 1,5 bis 3 s für jeden Farbwechsel", source: "Aus der Erinnerung von Bauenden, nicht gemessen. Stoppen Sie Ihre eigene Mannschaft eine Stunde lang." },
    mass: { what: "Die Masse aller Steine zusammen.", usual: "8,5 g je Stein, wo die Liste kein mass_g hat", source: "Berichtet: 8 bis 8,5 g. Wiegen Sie hundert eigene." },
    crates: { what: "Wie viele Kisten das Lager verlassen.", usual: "1 000 Steine je Kiste, wo die Liste kein crate_size hat", source: "Übliche Praxis: 1 000 bis 1 500." },
    spare: { what: "Der Anteil eines Postens, der für Zerbrochenes und Verlorenes zurückbleibt.", usual: "0, wenn die Liste nicht mehr sagt; höchstens die Hälfte", source: "Nichts wird angenommen." },
    alike: { what: "Farben, die beim Sortieren oder Ansagen verwechselt werden.", usual: "gemeldet unter einem Unterschied von 7; unter 5 sind sie schwer zu unterscheiden", source: PRACTICE },
    difference: { what: "Wie weit zwei Farben für das Auge auseinander liegen, CIEDE2000.", usual: "0 ist gleich, 1 sieht man gerade nebeneinander, 10 ist deutlich", source: "Formel: G. Sharma, W. Wu, E. N. Dalal, „The CIEDE2000 color-difference formula: implementation notes“, 2005. Die Worte zu 1 und 10 sind übliche Praxis." },
    distance: { what: "Aus welcher Ferne das Bild gesehen wird. Von weiter weg mischt das Auge mehr Steine zu einem Ton.", usual: "20 m", source: PRACTICE },
    eye: { what: "Wie hoch das Auge über dem Feld ist, wenn stehende Steine von der Seite gesehen werden.", usual: "1,6 m, jemand, der steht", source: PRACTICE },
    goal: { what: "Genau: die kleinste Summe der Unterschiede Zelle für Zelle, bewiesen. Wie gesehen: was das Auge aus dieser Ferne mischt.", usual: "wie gesehen", source: "Eine Wahl; beide lassen sich als Varianten vergleichen." },
    fewer: { what: "Wie viel Unterschied für längere Läufe einer Farbe gegeben wird; sie sind schneller gesetzt.", usual: "0, nur das Bild zählt", source: "Eine Wahl; jede Variante zeigt ihren Preis." },
    weight: { what: "Welches Feld eine knappe Farbe zuerst bekommt.", usual: "gleich für alle Felder", source: "Eine Wahl." },
    contrast: { what: "Flacher oder härter, als das Bild ist.", usual: "0, das Bild, wie es ist", source: "Eine Wahl." },
    reach: { what: "Wie weit jemand auf den Knien genau setzen kann.", usual: "600 mm", source: "Übliche Praxis: 500 bis 600 mm sind bequem, 700 mm sind die Grenze." },
  },
};
