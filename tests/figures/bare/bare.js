// The least that a page can do for a key: a field and one text that follows it. What the app takes
// for a key is held against this.

const [field, text] = [document.querySelector('#reading'), document.querySelector('.verdict')];

field.addEventListener('input', () => {
  text.textContent = field.value;
  text.classList.add('verdict-typed');
});
field.form.addEventListener('submit', (event) => {
  event.preventDefault();
  text.textContent = `${field.value}, entered`;
  text.classList.remove('verdict-typed');
  field.value = '';
});
field.focus();
document.documentElement.dataset.app = 'started';
