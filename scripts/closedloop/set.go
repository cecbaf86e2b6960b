package main

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"burngauge.dev/burngauge/pkg/plan"
)

// set gives one setting another value: "Turn.FirstCaution=0.1".
func set(settings *plan.Settings, text string) error {
	name, value, ok := strings.Cut(text, "=")
	group, field, dotted := strings.Cut(name, ".")
	if !ok || !dotted {
		return fmt.Errorf("%q is not NAME=VALUE, as Prior.Gain=0.26", text)
	}
	v := reflect.ValueOf(settings).Elem().FieldByName(group)
	if v.IsValid() {
		v = v.FieldByName(field)
	}
	if !v.IsValid() {
		return fmt.Errorf("the planner has no setting %q: pkg/plan/settings.go lists them", name)
	}
	switch v.Kind() {
	case reflect.Float64:
		number, err := strconv.ParseFloat(value, 64)
		v.SetFloat(number)
		return err
	case reflect.Int:
		number, err := strconv.Atoi(value)
		v.SetInt(int64(number))
		return err
	}
	return fmt.Errorf("%q is no number of the planner", name)
}
