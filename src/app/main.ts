import '@fontsource/barlow-semi-condensed/latin-400.css';
import '@fontsource/barlow-semi-condensed/latin-600.css';
import '@fontsource/source-sans-3/latin-400.css';
import '@fontsource/source-sans-3/latin-600.css';
import { mount } from 'svelte';
import App from './App.svelte';
import './look/sheet.css';

const target = document.getElementById('app');
if (target === null) throw new Error('The page has no place for the app');
mount(App, { target });
