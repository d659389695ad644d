package api

//go:generate go tool -modfile=../openapi/tools/go.mod oapi-codegen -config generate.yaml ../openapi/openapi.yaml
