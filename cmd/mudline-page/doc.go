// Mudline-page is the program inside the page that mudline page serves: built
// for js/wasm it runs in a worker and answers the page's calls with package
// desk. On every other system it is empty.
package main
