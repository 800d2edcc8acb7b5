package calc
