using System.Text.Json;

namespace FruitWatch.Model.Tests.Verification;

/// <summary>Inputs of a check value, written as a JSON object.</summary>
internal sealed class CheckJson(string inputs)
{
    private readonly JsonElement root = JsonDocument.Parse(inputs).RootElement;

    public double this[string name] => root.GetProperty(name).GetDouble();

    public int Whole(string name) => root.GetProperty(name).GetInt32();

    public double Or(string name, double otherwise) => root.TryGetProperty(name, out var value) ? value.GetDouble() : otherwise;

    public bool Has(string name) => root.TryGetProperty(name, out _);

    public double[] List(string name) => [.. root.GetProperty(name).EnumerateArray().Select(item => item.GetDouble())];

    /// <summary>Outcomes, written as 0 and 1.</summary>
    public bool[] Outcomes(string name) => [.. List(name).Select(item => item == 1)];

    /// <summary>Classes of forecasts: chance, forecasts, and events among them.</summary>
    public List<(double Chance, int Cases, int Events)> Bins() =>
    [
        .. root.GetProperty("bins").EnumerateArray()
            .Select(bin => (bin[0].GetDouble(), bin[1].GetInt32(), bin[2].GetInt32())),
    ];
}
