import { defineConfig } from 'vite';

// One entry under a fixed name, which the page names with the build's hash behind it; the rest under hashed names.
// What parts loaded later share with the entry lies in a file of its own: under its bare name the entry would be loaded, and run, a second time.
export default defineConfig({
  base: '/client/',
  build: {
    target: 'es2022',
    sourcemap: false,
    modulePreload: { polyfill: false },
    assetsInlineLimit: 0,
    rollupOptions: {
      input: 'src/main.ts',
      output: { entryFileNames: 'workbench.js', chunkFileNames: '[name]-[hash].js', assetFileNames: '[name][extname]', codeSplitting: { groups: [{ name: 'shared', test: /src[\\/](marks|way|diagram|units|survey)\.ts$/ }] } },
    },
  },
});
