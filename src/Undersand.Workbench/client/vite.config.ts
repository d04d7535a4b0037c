import { defineConfig } from 'vite';

// One entry under a fixed name, which the page names with the build's hash behind it; the rest under hashed names.
export default defineConfig({
  base: '/client/',
  build: {
    target: 'es2022',
    sourcemap: false,
    modulePreload: { polyfill: false },
    assetsInlineLimit: 0,
    rollupOptions: {
      input: 'src/main.ts',
      output: { entryFileNames: 'workbench.js', chunkFileNames: '[name]-[hash].js', assetFileNames: '[name][extname]' },
    },
  },
});
