using FruitWatch.Model.Beds;
using FruitWatch.Service.Log;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class Spanish
{
    public override string LogTitle => "Registro";

    public override string LogIt => "Anotar";

    public override string WhatHappened => "Qué se hizo o se vio";

    public override string MoreKinds => "Más";

    public override string NameOfLog(string kind) => kind switch
    {
        LogKinds.Watered => "Riego",
        LogKinds.Gauge => "Lectura del pluviómetro",
        LogKinds.Squeeze => "Prueba del puño",
        LogKinds.Moisture => "Humedad medida",
        LogKinds.Cover => "Poner o quitar cubierta",
        LogKinds.Mycelium => "Micelio visto",
        LogKinds.Pins => "Primordios vistos",
        LogKinds.NoPins => "Sin primordios al mirar",
        LogKinds.Picked => "Cosecha",
        LogKinds.FlushOver => "Fin de la oleada",
        LogKinds.ToppedUp => "Material añadido",
        LogKinds.Contamination => "Contaminación vista",
        LogKinds.SpawnTaken => "Micelio sacado",
        LogKinds.Spent => "Cama abandonada",
        _ => kind,
    };

    public override string AmountOf(string kind) => kind switch
    {
        LogKinds.Watered => "Agua dada",
        LogKinds.Gauge => "Lluvia en el pluviómetro ese día",
        LogKinds.Moisture => "Agua en peso",
        LogKinds.Mycelium => "El micelio blanco ha llegado al",
        _ => "Peso cosechado",
    };

    public override string NameOf(LogUnit unit) => unit switch
    {
        LogUnit.Litres => "litros",
        LogUnit.Millimetres => "mm",
        LogUnit.Percent => "%",
        LogUnit.Kilograms => "kg",
        LogUnit.Gallons => "galones",
        LogUnit.Inches => "in",
        LogUnit.Pounds => "lb",
        _ => "cm",
    };

    public override string QuestionOf(LogChoice choice) => choice switch
    {
        LogChoice.Squeeze => "Un puñado apretado",
        LogChoice.Cover => "Sobre la cama ahora",
        _ => "Qué se puso encima",
    };

    public override string NameOf(Squeeze result) => result switch
    {
        Squeeze.Crumbles => "se deshace",
        Squeeze.Right => "se mantiene, una gota o dos",
        _ => "gotea",
    };

    public override string NameOf(Cover cover) => cover switch
    {
        Cover.None => "sin cubierta",
        Cover.Sheet => "lámina cerrada",
        _ => "lámina con agujeros",
    };

    public override string DepthLaid => "Espesor añadido";

    public override string OnDay => "Día";

    public override string NoteLabel => "Nota (puede quedar vacía)";

    public override string SaveEntry => "Guardar";

    public override string Cancel => "Cancelar";

    public override string Undo => "Deshacer";

    public override string NothingLogged => "nada todavía";

    public override string EntryAdded(string entry) => $"Guardado: {entry}. La cuenta se ha recalculado.";

    public override string EarlierEntries(int count) => $"Anteriores: {Number(count)}";

    public override string EntryUndone => "Deshecho: la cuenta queda como si nunca se hubiera anotado.";

    public override string LoggedOn(string kind, LocalDate on, LocalDate today) =>
        on == today ? $"{NameOfLog(kind)}, hoy" : $"{NameOfLog(kind)}, {ShortDate(on)}";

    public override string ErrorPrefix => "Error:";

    public override string NotTaken => "Aún no se ha guardado:";

    public override string ChooseOne => "Elegir una de las respuestas.";

    public override string DayBetween(LocalDate first, LocalDate last) =>
        $"Indicar un día del {DateWithYear(first, last)} al {DateWithYear(last, last)}.";

    public override string NumberBetween(double low, double high, string unit) => $"Indicar un número de {Number(low, 2)} a {Number(high)} {unit}.";

    public override string TooLong(int most) => $"Como máximo {Number(most)} caracteres.";

    public override string NotPossible => "Eso no puede ser en esta cama.";
}
