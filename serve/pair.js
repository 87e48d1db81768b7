// SPDX-License-Identifier: MIT
'use strict'
const code = document.getElementById('code')
const said = document.getElementById('said')
const why = new URLSearchParams(location.search)
if (why.has('wrong')) said.textContent = 'That was not the code. After five wrong tries the laptop must show a new one.'
if (why.has('closed')) said.textContent = 'No code is open: it was used, two minutes are over, or there were five wrong tries. Have the laptop show a new one.'
function enter() {
  const digits = code.value.replace(/\D/g, '')
  if (digits.length === 6) location.href = '/?pair=' + digits
  else said.textContent = 'A code has six digits.'
}
document.getElementById('go').addEventListener('click', enter)
code.addEventListener('keydown', (event) => {
  if (event.key === 'Enter') enter()
})
