import { say } from '../../document/index.ts';
import type { cautions as english } from '../english/cautions.ts';

export const cautions: typeof english = {
  closing:
    'Ob und wie dies durchgeführt wird, entscheiden die eigenen Regeln der Schule, die örtlichen Vorschriften und die verantwortlichen, fachkundigen Personen.',
  moving: (energy, speed) =>
    say`Was sich bewegt, trägt bis zu ${energy} bei bis zu ${speed}. Es wird aufgefangen, bevor es jemanden erreicht: Schaumstoff oder eine gepolsterte Kiste am Ende der Bahn, Hände und Gesichter aus der Bahn.`,
  fast: (speed) =>
    say`Teile erreichen bis zu ${speed}; das freie Ende einer Kette, Schnur oder Stange kann schneller sein als jeder Teil, dem das Modell folgt. Schutzbrille tragen und seitlich stehen.`,
  heavy: (mass) =>
    say`Insgesamt hängen oder bewegen sich bis zu ${mass}. Füße und Hände nicht darunter halten, unten etwas Weiches hinlegen, Stative so festklemmen, dass sie nicht kippen können.`,
  elastic: (energy) =>
    say`Eine gespannte Feder speichert bis zu ${energy}. Schutzbrille tragen und sie nie frei schnellen lassen.`,
  electric: (energy) =>
    say`Ein geladener Kondensator speichert bis zu ${energy}. Vor dem Berühren über einen Widerstand entladen.`,
  voltage: (voltage) =>
    say`Spannungen erreichen bis zu ${voltage}. Eine solche Schaltung verbinden und schalten nur die verantwortlichen, fachkundigen Personen.`,
  current: (current) =>
    say`Ströme erreichen bis zu ${current}. Leitungen werden heiß; nur für die Ablesung einschalten.`,
  hot: (temperature) =>
    say`Teile erreichen bis zu ${temperature}. Vor dem Berühren abkühlen lassen und Brennbares fernhalten.`,
  threshold: (limit, source) => say`über ${limit}; ${source}`,
  commonPractice: 'übliche Praxis, ohne Quelle',
};
