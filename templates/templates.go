// Package templates holds what ships inside the program: the tables of
// materials and machines with their sources, and the starter kits.
package templates
