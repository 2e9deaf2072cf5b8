using System.Numerics;
using FruitWatch.Model.Catalogue;

namespace FruitWatch.Model.Responses;

/// <summary>Response to temperature that is full over a band and falls off in a straight line on both sides. 0…1</summary>
public readonly struct Trapezoid(Band band)
{
    private readonly double a = band.ZeroBelow;
    private readonly double b = band.FullFrom;
    private readonly double c = band.FullTo;
    private readonly double d = band.ZeroAbove;

    /// <summary>Response at a temperature. 0…1</summary>
    public double At(double t) =>
        t <= a || t >= d ? 0
        : t < b ? (t - a) / (b - a)
        : t <= c ? 1
        : (d - t) / (d - c);

    /// <summary>The same for many temperatures at once.</summary>
    public Vector<double> At(Vector<double> t)
    {
        var va = new Vector<double>(a);
        var vd = new Vector<double>(d);
        var rising = (t - va) / new Vector<double>(b - a);
        var falling = (vd - t) / new Vector<double>(d - c);
        var inside = Vector.ConditionalSelect(
            Vector.LessThan(t, new Vector<double>(b)),
            rising,
            Vector.ConditionalSelect(Vector.LessThanOrEqual(t, new Vector<double>(c)), Vector<double>.One, falling));
        var outside = Vector.BitwiseOr(Vector.LessThanOrEqual(t, va), Vector.GreaterThanOrEqual(t, vd));
        return Vector.ConditionalSelect(outside, Vector<double>.Zero, inside);
    }
}
