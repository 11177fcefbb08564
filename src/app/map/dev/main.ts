import { mount } from 'svelte';
import Demo from './Demo.svelte';
import '@fontsource/barlow-semi-condensed/500.css';
mount(Demo, { target: document.getElementById('app')! });
