using System.Globalization;

namespace FruitWatch.Model.Tests.Evaporation;

/// <summary>Inputs of a check value, written as <c>name=value unit;…</c>.</summary>
internal sealed class CheckInputs
{
    private readonly Dictionary<string, string> values;

    public CheckInputs(string inputs) => values = inputs
        .Split(';')
        .Select(part => part.Split('='))
        .ToDictionary(part => part[0], part => part[1].Split(' ')[0]);

    public double this[string name] => double.Parse(values[name], CultureInfo.InvariantCulture);

    public int Day => (int)this["J"];

    public bool Has(string name) => values.ContainsKey(name);

    public double Or(string name, double otherwise) => Has(name) ? this[name] : otherwise;
}
