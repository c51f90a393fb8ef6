// Package figure draws documents as SVG: what a command puts into its folder ([Files]),
// and what stands on the report's page. A picture shows numbers that an answer holds
// already; nothing is fitted or estimated here.
package figure
