interface UndersandGlue {
  themes: string[];
  panel: unknown;
  ask(kind: string, value: string | null): void;
  theme(name: string): void;
  deck(on: boolean): void;
  units(name: string): void;
  keep(name: string, value: string): void;
}
declare const undersand: UndersandGlue;
declare module '*.css';
